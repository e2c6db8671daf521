//go:build unix

package publish

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

// hold locks the file of that name, which it makes if need be; release removes it. Another run may have
// removed the file between the opening and the locking: then the lock is on a file that nobody else will
// open, and it is taken again.
func hold(name string) (release func(), err error) {
	for {
		f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE|unix.O_NOFOLLOW, fileMode)
		if err != nil {
			return nil, err
		}
		if err := flock(f); err != nil {
			return nil, errors.Join(err, f.Close())
		}
		if stillNamed(f, name) {
			return func() { letGo(f) }, nil
		}
		_ = f.Close()
	}
}

func flock(f *os.File) error {
	err := unix.Flock(int(f.Fd()), unix.LOCK_EX|unix.LOCK_NB)
	switch {
	case errors.Is(err, unix.EWOULDBLOCK):
		return errHeld
	case errors.Is(err, unix.ENOLCK), errors.Is(err, unix.ENOSYS), errors.Is(err, unix.EOPNOTSUPP):
		letGo(f)
		return errCannotBeHad
	}
	return err
}

func stillNamed(f *os.File, name string) bool {
	held, err := f.Stat()
	named, lerr := os.Lstat(name)
	return err == nil && lerr == nil && os.SameFile(held, named)
}

// letGo removes the file first, while no other can hold it. A file with something in it is not ours.
func letGo(f *os.File) {
	if info, err := f.Stat(); err == nil && info.Size() == 0 {
		_ = os.Remove(f.Name())
	}
	_ = f.Close()
}
