package publish

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"syscall"
)

var (
	errHeld        = errors.New("held by another run")
	errCannotBeHad = errors.New("this disk knows no locks")
)

// lock lets one run at a time write beside the output folder. The lock is the system's, on a file that is
// there only meanwhile: it goes with the process that holds it, however that ends. Where no file can be
// made there is nothing to lock, since nothing can be staged either; a site that did not change still passes.
func lock(at place) (release func(), err error) {
	release, err = hold(at.lock)
	switch {
	case err == nil:
		return release, nil
	case errors.Is(err, errHeld):
		return nil, refuse(at.shown, "output-busy", "wait until the other has ended",
			"another run of trug is writing into %q", at.shown)
	case errors.Is(err, errCannotBeHad) || unwritable(err) && missing(at.lock):
		return func() {}, nil
	}
	return nil, fmt.Errorf("cannot lock %q: %w", at.shown, err)
}

func unwritable(err error) bool {
	return errors.Is(err, fs.ErrPermission) || errors.Is(err, syscall.EROFS)
}

func missing(name string) bool {
	_, err := os.Lstat(name)
	return errors.Is(err, fs.ErrNotExist)
}
