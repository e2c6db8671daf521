package publish

import (
	"os"
	"path/filepath"
)

// Inside reports whether a is the folder b or lies in it, links resolved. What does not exist yet is
// judged by the nearest folder above it that does.
func Inside(a, b string) bool {
	b = resolve(b)
	under, errB := os.Stat(b)
	for p := resolve(a); ; p = filepath.Dir(p) {
		if p == b {
			return true
		}
		// On a disk that ignores case, two names can be one folder.
		if info, err := os.Stat(p); err == nil && errB == nil && os.SameFile(info, under) {
			return true
		}
		if p == filepath.Dir(p) {
			return false
		}
	}
}

// resolve returns the absolute path with the links of its existing part followed.
func resolve(name string) string {
	full, err := filepath.Abs(name)
	if err != nil {
		return filepath.Clean(name)
	}
	if real, err := filepath.EvalSymlinks(full); err == nil {
		return real
	}
	parent := filepath.Dir(full)
	if parent == full {
		return full
	}
	return filepath.Join(resolve(parent), filepath.Base(full))
}
