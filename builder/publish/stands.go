package publish

import (
	"crypto/sha256"
	"errors"
	"maps"
	"os"
	"slices"
)

var errChanged = errors.New("was changed")

// Stands reports whether every file of the output folder is there and as it was written, and returns the sum of
// its manifest. It reads them all.
func (s *Stage) Stands() (manifest [sha256.Size]byte, whole bool) {
	if len(s.before.sums) == 0 || len(s.before.sums) != len(s.before.found) {
		return manifest, false
	}
	err := inParallel(slices.Collect(maps.Keys(s.before.sums)), func(file string) error {
		body, err := os.ReadFile(inside(s.at.dir, file))
		if err == nil && sha256.Sum256(body) != s.before.sums[file] {
			err = errChanged
		}
		return err
	})
	return sha256.Sum256([]byte(s.before.manifest)), err == nil
}
