package publish

import (
	"cmp"
	"crypto/sha256"
	"errors"
	"fmt"
	"maps"
	"os"
	"path"
	"runtime"
	"slices"
	"sync"
	"time"
)

// A Stage is a site on its way into its folder. It keeps the path and the sum of each file, never a body.
// All its methods may be called from several goroutines.
type Stage struct {
	disk   disk
	at     place
	before contents
	spare  *Spare   // of the program; nil = it publishes once
	end    []func() // what Begin took, to be given back in reverse order

	ending sync.RWMutex // held for reading while a file is added
	ended  bool
	staged *area // nil = none yet, or not ours to remove any more
	area   func() (*area, error)

	guard  sync.Mutex // of what follows
	paths  pathSet
	sums   map[string]digest
	kept   map[string]bool // files of the old site that stay; true = they cannot be linked, only copied
	again  map[string]bool // files that Again added and Add may add anew
	failed error           // of the first file that could not be added

	dates map[string]time.Time // of the staged folders; nil = they tell nothing
}

var errEnded = errors.New("this site is published or given up already")

// Begin makes ready to publish into dir: it takes the lock, clears up after a run that was cut short, and
// reads the manifest. A *Refusal says what stands in the way; code "output-busy" is another run at work.
// Whoever begins ends with Publish or Drop.
func Begin(dir string) (*Stage, error) { return onDisk.begin(dir, nil) }

func (d disk) begin(dir string, spare *Spare) (*Stage, error) {
	at, err := newPlace(dir)
	if err != nil {
		return nil, err
	}
	s := &Stage{disk: d, at: at, spare: spare, paths: newPathSet(), sums: map[string]digest{}, kept: map[string]bool{}, again: map[string]bool{}}
	s.area = sync.OnceValues(s.open)
	for _, step := range []func() error{s.makeParent, s.takeLock, s.readBefore} {
		if err := step(); err != nil {
			return nil, errAnd(err, s.Drop())
		}
	}
	return s, nil
}

// makeParent makes the folder that the output folder stands in.
func (s *Stage) makeParent() error {
	made, err := makeFolders(s.at.parent)
	s.end = append(s.end, func() { removeEmpty(made) })
	if err != nil {
		return fmt.Errorf("cannot make the folder of %q: %w", s.at.shown, err)
	}
	return nil
}

func (s *Stage) takeLock() error {
	release, err := lock(s.at)
	if err == nil {
		s.end = append(s.end, release)
	}
	return err
}

func (s *Stage) readBefore() (err error) {
	if err := s.disk.tidy(s.at, s.spare); err != nil {
		return err
	}
	s.before, err = look(s.at, s.spare)
	return err
}

// Add puts one file into the new site. A file whose bytes stand in the output folder is only noted; any
// other is written into the staging folder, which is made for the first of them. The body may be used
// again afterwards. After an error, which is a path that cannot be or a disk that fails, Publish fails too.
func (s *Stage) Add(path string, body []byte) error {
	return s.AddSummed(path, body, sha256.Sum256(body))
}

// AddSummed is Add for a body whose sum is known.
func (s *Stage) AddSummed(path string, body []byte, sum [sha256.Size]byte) error {
	s.ending.RLock()
	defer s.ending.RUnlock()
	if s.ended {
		return errEnded
	}
	err := s.add(path, body, sum)
	if err != nil {
		s.guard.Lock()
		defer s.guard.Unlock()
		s.failed = err
	}
	return err
}

func (s *Stage) add(path string, body []byte, sum digest) error {
	if err := checkPath(path); err != nil {
		return err
	}
	if err := s.note(path, sum); err != nil {
		return err
	}
	if same, linkable := s.stands(path, sum, body); same {
		s.guard.Lock()
		s.kept[path] = !linkable
		s.guard.Unlock()
		return nil
	}
	area, err := s.area()
	if err != nil {
		return err
	}
	return s.stagingErr(area.write(s.disk, File{path, body}))
}

// note takes the path in, or says which other it collides with.
func (s *Stage) note(path string, sum digest) error {
	s.guard.Lock()
	defer s.guard.Unlock()
	s.sums[path] = sum
	if s.again[path] {
		delete(s.again, path)
		delete(s.kept, path)
		return nil
	}
	return s.paths.add(path)
}

// stands reports whether a file of the old site holds the body. The manifest alone does not tell: the
// file may have been changed by hand, or lost its bytes in a cut of the power.
func (s *Stage) stands(path string, sum digest, body []byte) (same, linkable bool) {
	if !s.before.found[path] || s.before.sums[path] != sum {
		return false, false
	}
	return holds(inside(s.at.dir, path), body)
}

func (s *Stage) stagingErr(err error) error {
	if err == nil {
		return nil
	}
	return fmt.Errorf("cannot stage the site for %q: %w", s.at.shown, err)
}

// open makes the staging folder, out of the spare site if there is one.
func (s *Stage) open() (a *area, err error) {
	if a, err = s.openSpare(); err != nil {
		return nil, s.stagingErr(err)
	}
	if a == nil {
		dir, err := os.MkdirTemp(s.at.parent, s.at.prefix)
		if err != nil {
			return nil, fmt.Errorf("cannot write beside %q: %w", s.at.shown, err)
		}
		a = &area{dir: dir}
	}
	s.staged = a
	return a, s.stagingErr(a.open())
}

// Publish makes the staged site the published one; when nothing changed, nothing on the disk is touched.
// After an error the output folder is as it was. In any case the stage has ended.
func (s *Stage) Publish() (Report, error) {
	s.ending.Lock()
	defer s.ending.Unlock()
	if s.ended {
		return Report{}, errEnded
	}
	report, err := s.publish()
	if err != nil {
		return Report{}, errAnd(err, s.drop())
	}
	return report, s.drop()
}

func (s *Stage) publish() (Report, error) {
	if s.failed != nil {
		return Report{}, s.failed
	}
	if len(s.sums) == 0 {
		return Report{}, errors.New("no files to publish: a site needs at least one")
	}
	report, manifest := s.compare(), writeManifest(s.sums)
	report.Manifest = sha256.Sum256([]byte(manifest))
	if report.Written == 0 && report.Removed == 0 && manifest == s.before.manifest {
		_, err := os.Lstat(s.at.dir)
		return report, err
	}
	err := s.complete(manifest)
	if err != nil {
		return Report{}, err
	}
	report.Left, err = s.bringIn(manifest)
	return report, err
}

// bringIn puts the staged site in its place.
func (s *Stage) bringIn(manifest string) (left string, err error) {
	next := s.asPublished(manifest)
	left, err = s.disk.swap(s.at, s.staged.dir, s.before, s.spare)
	if err != nil {
		return "", err
	}
	s.staged = nil
	if s.spare != nil {
		s.spare.site = next
	}
	return left, nil
}

// compare counts how the site differs from what stands in the folder.
func (s *Stage) compare() Report {
	r := Report{Written: len(s.sums) - len(s.kept), Unchanged: len(s.kept)}
	for path := range s.before.found {
		if _, stays := s.sums[path]; !stays {
			r.Removed++
		}
	}
	return r
}

// complete brings into the staging folder what stayed the same, and the manifest.
func (s *Stage) complete(manifest string) error {
	area, err := s.area()
	if err != nil {
		return err
	}
	defer area.close()
	err = inParallel(slices.Sorted(maps.Keys(s.kept)), func(file string) error {
		return s.keep(area, file)
	})
	if err == nil {
		err = area.shed(s.disk, s.sums, s.paths)
	}
	if err == nil {
		s.dates = s.dateFolders(area)
		err = area.finish(s.disk, manifest)
	}
	return s.stagingErr(err)
}

// keep links a file of the old site into the staging folder: no byte is written, and a reader who sees the
// times of files sees that it is the same. It copies where that cannot be, or where the file's mode is not
// what a new file would have.
func (s *Stage) keep(a *area, file string) error {
	from, mustCopy := inside(s.at.dir, file), s.kept[file]
	if !mustCopy && a.same(from, file) {
		return nil
	}
	if err := a.makeFolder(path.Dir(file)); err != nil {
		return err
	}
	if err := a.makeRoom(s.disk, file); err != nil {
		return err
	}
	if !mustCopy && s.disk.link(from, inside(a.dir, file)) == nil {
		return nil
	}
	body, err := os.ReadFile(from)
	if err != nil {
		return err
	}
	if sha256.Sum256(body) != s.sums[file] {
		return fmt.Errorf("%q was changed while the site was made", file)
	}
	return a.write(s.disk, File{file, body})
}

// Drop gives the stage up: nothing of it is left and the lock is free. After Publish it does nothing, so
// it can be deferred. It waits for files that are being added and for a Publish that is at work.
func (s *Stage) Drop() error {
	s.ending.Lock()
	defer s.ending.Unlock()
	return s.drop()
}

func (s *Stage) drop() (err error) {
	s.ended = true
	if s.staged != nil {
		s.staged.close()
		err = s.disk.removeStage(s.staged.dir)
		s.staged = nil
	}
	for _, end := range slices.Backward(s.end) {
		end()
	}
	s.end = nil
	return err
}

// inParallel calls do for each item, on all cores, and returns the first error in the order of the items.
func inParallel(items []string, do func(string) error) error {
	return atOnce(runtime.GOMAXPROCS(0), items, do)
}

// atOnce is inParallel with a number of goroutines of one's own.
func atOnce(workers int, items []string, do func(string) error) error {
	workers = min(workers, len(items))
	errs := make([]error, workers)
	var wg sync.WaitGroup
	for w := range workers {
		wg.Go(func() {
			for _, item := range items[len(items)*w/workers : len(items)*(w+1)/workers] {
				if errs[w] = do(item); errs[w] != nil {
					return
				}
			}
		})
	}
	wg.Wait()
	return cmp.Or(errs...)
}
