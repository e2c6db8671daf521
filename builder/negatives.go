package builder

import (
	"sync"

	"trug/builder/pictures"
)

// mostKept is how many bytes of pictures are kept between builds while a fault keeps them out of the site.
const mostKept = 128 << 20

// Negatives are pictures that were made and stand in no published site yet: the next build of a watch asks for
// the same. What cannot be made is kept too. The zero value is ready.
type negatives struct {
	mutex sync.Mutex
	made  map[string]negative // by the name of the set
	bytes int
}

type negative struct {
	set pictures.Set
	err error
}

// develop returns the set of a picture's bytes, made now or in an earlier build.
func (c *Cache) develop(body []byte) (pictures.Set, error) {
	if c == nil {
		return pictures.Make(body)
	}
	name := pictures.Name(body)
	c.negatives.mutex.Lock()
	was, ok := c.negatives.made[name]
	c.negatives.mutex.Unlock()
	if ok {
		return was.set, was.err
	}
	set, err := pictures.Make(body)
	c.negatives.keep(name, negative{set, err})
	return set, err
}

// keep keeps a set; when there are too many, it keeps that one alone.
func (n *negatives) keep(name string, it negative) {
	n.mutex.Lock()
	defer n.mutex.Unlock()
	size := 0
	for _, f := range it.set.Files {
		size += len(f.Body)
	}
	if n.made == nil || n.bytes+size > mostKept {
		n.made, n.bytes = map[string]negative{}, 0
	}
	n.made[name], n.bytes = it, n.bytes+size
}

// forget drops a set that the published site holds.
func (c *Cache) forget(name string) {
	if c == nil {
		return
	}
	c.negatives.mutex.Lock()
	defer c.negatives.mutex.Unlock()
	for _, f := range c.negatives.made[name].set.Files {
		c.negatives.bytes -= len(f.Body)
	}
	delete(c.negatives.made, name)
}
