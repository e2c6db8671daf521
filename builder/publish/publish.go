// Package publish puts a finished site into its folder. Every file is staged beside the folder and
// read back, then the folders are swapped by renaming, so that a reader never meets half a site and
// a failure leaves the folder as it was. A manifest inside the folder says which files trug wrote:
// a folder with anything else in it is refused, never emptied.
package publish

import (
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

// Publish writes files into dir: stages them beside it, verifies every staged byte, swaps, removes
// the old. A file of the old site that is not in files is gone afterwards. An error leaves dir as it
// was; a *Refusal among the errors says what the grower can do. Two runs into one folder at once do
// not mix: one of them fails.
func Publish(dir string, files []File) (Report, error) {
	return onDisk.publish(dir, files)
}

// A disk holds the calls that change the disk, so that a test can make any of them fail.
type disk struct {
	write  func(root *os.Root, f File) error
	rename func(from, to string) error
	remove func(path string) error
}

var onDisk = disk{write: writeFile, rename: os.Rename, remove: os.RemoveAll}

func (d disk) publish(dir string, files []File) (Report, error) {
	site, err := newSite(files)
	if err != nil {
		return Report{}, err
	}
	at, err := newPlace(dir)
	if err != nil {
		return Report{}, err
	}
	if err := d.tidy(at); err != nil {
		return Report{}, err
	}
	before, err := look(at)
	if err != nil {
		return Report{}, err
	}
	report := compare(before, site)
	if report.Written == 0 && report.Removed == 0 && before.manifest == site.manifest {
		return report, nil
	}
	stage, err := d.stage(at, site)
	if err != nil {
		return Report{}, err
	}
	if err := d.swap(at, stage); err != nil {
		return Report{}, errAnd(err, d.clear(stage))
	}
	if d.clear(at.old) != nil {
		report.Left = at.old
	}
	return report, nil
}

// compare counts how the site differs from what stands in the folder.
func compare(before contents, site site) Report {
	var r Report
	for path, sum := range site.sums {
		if before.sums[path] == sum {
			r.Unchanged++
		} else {
			r.Written++
		}
	}
	for path := range before.sums {
		if _, stays := site.sums[path]; !stays {
			r.Removed++
		}
	}
	return r
}

// errAnd returns err, and says so when cleaning up after it failed as well.
func errAnd(err, cleanup error) error {
	if cleanup == nil {
		return err
	}
	return fmt.Errorf("%w; and cleaning up failed: %w", err, cleanup)
}
