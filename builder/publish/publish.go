// Package publish puts a finished site into its folder. Every file that is new or other than before is
// staged beside the folder while the site is made; at the end what stayed the same is linked in and the
// two folders change places, so that a reader never meets half a site and a failure leaves the folder as
// it was. A site that did not change is not touched at all. A manifest inside the folder says which files
// trug wrote: a folder with anything else in it is refused, never emptied.
//
// Killing the program at any moment leaves a whole site, and the next run clears up. Two runs into one folder
// at once do not mix: a lock lets in one.
//
// Against a cut of the power the manifest alone is flushed to the disk: the next run knows the folder by it, and
// writes anew each file whose bytes were lost. Flushing 4,000 files of 8 KB too was measured to take four times as
// long as writing them (in one go at the end; forty times one by one), and flushes what other programs wrote.
package publish

import (
	"crypto/sha256"
	"fmt"
	"os"

	"trug/calcblocks/kit/diag"
)

// A File is one file of the site. Path is its place inside the site, with slashes, such as
// "notes/tubs/index.html".
type File struct {
	Path string
	Body []byte
}

// A Report counts what Publish did. Written counts the files that are new or differ from those in
// the folder, Unchanged those that were there byte for byte, Removed those that the site no longer
// has. Left names the set-aside old site when it could not be removed; the next run tries again.
type Report struct {
	Written, Unchanged, Removed int
	Left                        string
	Manifest                    [sha256.Size]byte // its sum, which stands for the whole site
}

// A Refusal is an error that the grower can mend: what stands in the way of publishing and what
// would help. Nothing was written.
type Refusal struct {
	Dir     string // the output folder, as it was named
	Code    string // stable, kebab-case
	Message string
	Hint    string
}

// Error returns the message without its hint.
func (r *Refusal) Error() string { return r.Message }

// Diagnostic returns the refusal as a fault of the output folder.
func (r *Refusal) Diagnostic() diag.Diagnostic {
	return diag.Errorf(diag.Whole(r.Dir), r.Code, "%s", r.Message).Hint("%s", r.Hint)
}

// A disk holds the calls that change the disk, so that a test can make any of them fail.
type disk struct {
	write     func(root *os.Root, f File) (size int64, err error) // a new file; its size as the disk has it
	link      func(from, to string) error
	rename    func(from, to string) error
	exchange  func(a, b string) error // two folders change places at once
	remove    func(path string) error // a file or an empty folder
	removeAll func(path string) error
	clear     func(root *os.Root, path string) error // a file or folder of a staging folder
}

var onDisk = disk{
	write: writeFile, link: os.Link, rename: os.Rename, exchange: exchange, remove: os.Remove, removeAll: os.RemoveAll,
	clear: clearPath,
}

// errAnd returns err, and says so when cleaning up after it failed as well.
func errAnd(err, cleanup error) error {
	if cleanup == nil {
		return err
	}
	return fmt.Errorf("%w; and cleaning up failed: %w", err, cleanup)
}
