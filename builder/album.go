package builder

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
	"sync"

	"trug/builder/pictures"
	"trug/builder/publish"
	"trug/builder/site"
	"trug/calcblocks/kit/diag"
)

// An album is the pictures of one build. Each is made once, however many pages show it, and one that the
// published site has already is taken from there: its folder is named after the bytes that it was made of. The
// zero value is ready and knows of no published site.
type album struct {
	site      string // folder of the published site; "" = none
	mutex     sync.Mutex
	shots     map[string]*shot // by path in the content folder
	reading   sync.Once        // of what follows
	listed    map[string]string
	published map[string][]string // paths of the published site, by the folder of a picture
}

// A shot is a picture of the content folder as pages show it: a set without the bytes of its files.
type shot struct {
	once sync.Once
	set  pictures.Set
	err  error
}

var errNoPicture = errors.New("is not there")

// shot returns a picture of the content folder; its files are added to the site the first time.
func (s *rendering) shot(name string) *shot {
	s.album.mutex.Lock()
	if s.album.shots == nil {
		s.album.shots = map[string]*shot{}
	}
	it := s.album.shots[name]
	if it == nil {
		it = &shot{}
		s.album.shots[name] = it
	}
	s.album.mutex.Unlock()
	it.once.Do(func() { it.set, it.err = s.develop(name) })
	return it
}

// develop adds the files of a picture and returns what pages need to know of them.
func (s *rendering) develop(name string) (pictures.Set, error) {
	body, err := fs.ReadFile(s.Handbook.files, name)
	if large := (diag.TooLarge{}); errors.As(err, &large) {
		return pictures.Set{}, fmt.Errorf("cannot be read: %w", large)
	}
	if err != nil || strings.HasPrefix(name, "..") {
		return pictures.Set{}, errNoPicture
	}
	set, err := s.makeSet(name, body)
	if err != nil {
		return pictures.Set{}, err
	}
	shown := pictures.Set{Name: set.Name}
	for _, f := range set.Files {
		s.add(pictureAt(name, set.Name, f), f.Body)
		f.Body = nil
		shown.Files = append(shown.Files, f)
	}
	return shown, nil
}

// makeSet takes a set from the published site, or makes it.
func (s *rendering) makeSet(name string, body []byte) (pictures.Set, error) {
	if set, found := s.album.taken(name, pictures.Name(body)); found {
		s.cache.forget(set.Name)
		return set, nil
	}
	return s.cache.develop(body)
}

// taken returns the set of a name from the published site. All of its files must be as they were written.
func (a *album) taken(name, set string) (pictures.Set, bool) {
	a.reading.Do(a.read)
	out := pictures.Set{Name: set}
	for _, at := range a.published[pictureFolder(name, set)] {
		body, whole := publish.ReadListed(a.site, at, a.listed[at])
		f, err := pictures.Measured(path.Ext(at), body)
		if !whole || err != nil {
			return pictures.Set{}, false
		}
		out.Files = append(out.Files, f)
	}
	slices.SortFunc(out.Files, func(a, b pictures.File) int { return a.Width - b.Width })
	return out, len(out.Files) > 0
}

// read looks up the pictures of the published site.
func (a *album) read() {
	if a.site == "" {
		return
	}
	a.listed, a.published = publish.Listed(a.site), map[string][]string{}
	for at := range a.listed {
		if strings.HasPrefix(at, picturesAt) {
			folder := path.Dir(at) + "/"
			a.published[folder] = append(a.published[folder], at)
		}
	}
}

const picturesAt = "pictures/"

// pictureFolder is where the files of a picture stand in the site.
func pictureFolder(name, set string) string {
	return fmt.Sprintf("%s%s-%s/", picturesAt, pictureName(name), set)
}

func pictureAt(name, set string, f pictures.File) site.Address {
	return site.Address(fmt.Sprintf("%s%d%s", pictureFolder(name, set), f.Width, f.Ending))
}
