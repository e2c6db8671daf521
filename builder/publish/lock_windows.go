package publish

import (
	"errors"

	"golang.org/x/sys/windows"
)

// hold opens the file of that name so that nobody else can, and so that it goes when it is closed, which
// the system does for a process that ends.
func hold(name string) (release func(), err error) {
	path, err := windows.UTF16PtrFromString(name)
	if err != nil {
		return nil, err
	}
	const alone = 0 // shared with nobody
	h, err := windows.CreateFile(path, windows.GENERIC_READ|windows.DELETE, alone, nil, windows.OPEN_ALWAYS,
		windows.FILE_ATTRIBUTE_NORMAL|windows.FILE_FLAG_DELETE_ON_CLOSE, 0)
	if errors.Is(err, windows.ERROR_SHARING_VIOLATION) {
		return nil, errHeld
	}
	if err != nil {
		return nil, err
	}
	return func() { _ = windows.CloseHandle(h) }, nil
}
