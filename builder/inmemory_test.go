package builder

import (
	"slices"
	"strings"
	"sync"

	"trug/builder/publish"
)

// inMemorySite is a site that is kept in memory.
type inMemorySite struct {
	*rendering
	out []publish.File // by path
}

// inMemory renders a handbook and publishes nothing.
func inMemory(o Options) (*inMemorySite, error) {
	var to gathered
	s, err := render(o, &to)
	slices.SortFunc(to.files, func(a, b publish.File) int { return strings.Compare(a.Path, b.Path) })
	return &inMemorySite{s, to.files}, err
}

type gathered struct {
	guard sync.Mutex
	files []publish.File
}

func (g *gathered) AddSummed(path string, body []byte, _ [32]byte) error {
	g.guard.Lock()
	defer g.guard.Unlock()
	g.files = append(g.files, publish.File{Path: path, Body: slices.Clone(body)})
	return nil
}
