package publish

import (
	"crypto/sha256"
	"os"
	"runtime"
)

// Holds reports whether a file of the output folder holds the bytes of a sum, as the manifest says. It reads the file.
func (s *Stage) Holds(path string, sum [sha256.Size]byte) bool {
	if !s.before.found[path] || s.before.sums[path] != sum {
		return false
	}
	body, err := os.ReadFile(inside(s.at.dir, path))
	return err == nil && sha256.Sum256(body) == sum
}

// Again adds a file whose body is at hand no more, if the output folder has it: the manifest names its sum, and a
// file of its size stands there. It is for a program that published the file itself a moment ago: a change by hand that
// keeps the size is not seen. False = nothing was added. Add may still add the file, with another body.
func (s *Stage) Again(path string, size int, sum [sha256.Size]byte) bool {
	s.ending.RLock()
	defer s.ending.RUnlock()
	if s.ended || !s.before.found[path] || s.before.sums[path] != sum {
		return false
	}
	info, err := os.Lstat(inside(s.at.dir, path))
	if err != nil || !info.Mode().IsRegular() || info.Size() != int64(size) {
		return false
	}
	s.guard.Lock()
	defer s.guard.Unlock()
	if !s.again[path] && s.paths.add(path) != nil {
		return false
	}
	s.again[path], s.sums[path] = true, sum
	s.kept[path] = runtime.GOOS != "windows" && info.Mode().Perm() != fileMode
	return true
}
