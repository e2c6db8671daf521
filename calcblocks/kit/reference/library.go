// Package reference holds the embedded figures of the craft, each with its range, unit, basis, source and
// confidence, and the works behind them. The prose beside the figures is the reasoning.
package reference

import (
	"embed"
	"slices"
	"sync"

	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/sources"
)

//go:embed facts/*.yaml facts/*.md
var files embed.FS

// A Library is the whole reference. Treat it as read-only: it is shared.
type Library struct {
	Amendments  []*Amendment
	Crops       []*Crop
	Families    []*Family
	Containers  []*Container
	Cautions    []*Caution
	Hazards     []string // the hazard words that amendments and cautions use
	Tasks       []string // the words for what the grower is doing
	Germination []*Germination

	bibliography map[string]sources.Entry
	trees        map[string]*form.Node
	found        finds // what At has looked up: guards ask for the same few figures for every size
}

// factFiles names the fact files that hold figures; the two with sources are read beside them.
var factFiles = []string{"amendments", "cautions", "crops", "families", "heap", "judging", "season", "volumes"}

// Load reads the embedded fact files. An error is a mistake in those files, never the grower's.
func Load() (*Library, error) {
	r := &reader{list: &diag.List{}}
	trees := r.openAll(append(slices.Clone(factFiles), "sources", "crop-sources"))
	l := &Library{trees: map[string]*form.Node{}}
	for _, name := range factFiles {
		l.trees[name] = trees[name]
	}
	l.bibliography = r.bibliography(trees["sources"], trees["crop-sources"])
	if err := r.err(); err != nil {
		return nil, err
	}
	l.Amendments = r.amendments(l.trees["amendments"])
	r.crops(l, l.trees["crops"])
	l.Families = r.families(l.trees["families"])
	l.Containers = r.containers(l.trees["volumes"])
	r.cautions(l, l.trees["cautions"])
	if err := r.err(); err != nil {
		return nil, err
	}
	return l, nil
}

// Default returns the reference, read once. It panics on a mistake in the embedded files, which is ours.
var Default = sync.OnceValue(func() *Library {
	l, err := Load()
	if err != nil {
		panic(err)
	}
	return l
})

// Amendment returns the amendment with an id.
func (l *Library) Amendment(id string) (*Amendment, bool) {
	return find(l.Amendments, id, func(a *Amendment) string { return a.ID })
}

// Crop returns the crop with an id.
func (l *Library) Crop(id string) (*Crop, bool) {
	return find(l.Crops, id, func(c *Crop) string { return c.ID })
}

// Family returns the plant family with an id.
func (l *Library) Family(id string) (*Family, bool) {
	return find(l.Families, id, func(f *Family) string { return f.ID })
}

// Container returns the container with an id.
func (l *Library) Container(id string) (*Container, bool) {
	return find(l.Containers, id, func(c *Container) string { return c.ID })
}

// AmendmentIDs returns the ids of the amendments in the order of the reference.
func (l *Library) AmendmentIDs() []string {
	return ids(l.Amendments, func(a *Amendment) string { return a.ID })
}

// CropIDs returns the ids of the crops in the order of the reference.
func (l *Library) CropIDs() []string { return ids(l.Crops, func(c *Crop) string { return c.ID }) }

// FamilyIDs returns the ids of the plant families in the order of the reference.
func (l *Library) FamilyIDs() []string {
	return ids(l.Families, func(f *Family) string { return f.ID })
}

// ContainerIDs returns the ids of the containers in the order of the reference.
func (l *Library) ContainerIDs() []string {
	return ids(l.Containers, func(c *Container) string { return c.ID })
}

// Prose returns the reasoning behind the figures: amendments, nutrition, season or volumes, as Markdown.
func (l *Library) Prose(name string) (string, bool) {
	text, err := files.ReadFile("facts/" + name + ".md")
	return string(text), err == nil
}

func find[T any](all []T, id string, key func(T) string) (T, bool) {
	for _, item := range all {
		if key(item) == id {
			return item, true
		}
	}
	var none T
	return none, false
}

func ids[T any](all []T, key func(T) string) []string {
	out := make([]string, len(all))
	for i, item := range all {
		out[i] = key(item)
	}
	return out
}
