// Package garden holds the grower's own files: the handbook file, the cupboard, the pots and recipe
// files. What the grower measured beats the reference, and is cited as an own measurement.
package garden

import (
	"errors"
	"io/fs"
	"path"
	"strings"

	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/units"
)

// A Garden is what the grower's files say.
type Garden struct {
	Handbook Handbook
	Pots     []Pot
	Recipes  []RecipeFile

	cupboard  []*Material
	materials map[string]*Material // of the cupboard and the reference, by id
	folder    string               // as messages print it
	ref       *reference.Library
	own       sources.Set
	content   fs.FS
	unread    map[string]func(id string) bool // ids of the entries of a file with faults, by the file
}

// Open reads the grower's files from a content folder. name is the folder as messages print it. Files
// that are not there leave their part empty; faults go to report.
func Open(content fs.FS, name string, ref *reference.Library, report func(diag.Diagnostic)) *Garden {
	g := &Garden{ref: ref, folder: name, content: content, unread: map[string]func(string) bool{}}
	r := reader{content, name, units.Parser{Set: units.US}, g.told(report)}
	g.Handbook = readHandbook(r.file(handbookFile))
	r.values.Set = g.Handbook.Main
	g.readPots(r.file(potsFile))
	g.Handbook.checkSizes(g)
	g.readCupboard(r.file(cupboardFile))
	r.report = report // the blocks of recipe files report when they are computed
	g.readRecipes(r)
	g.gatherMaterials()
	return g
}

// told passes on what is wrong with the three files, and takes down which ids that leaves in doubt.
func (g *Garden) told(report func(diag.Diagnostic)) func(diag.Diagnostic) {
	return func(d diag.Diagnostic) {
		if g.Follows(d) {
			return
		}
		file := path.Base(d.At.Name())
		if d.Severity == diag.Fault && g.unread[file] == nil {
			text, _ := fs.ReadFile(g.content, file)
			g.unread[file] = unreadNames(string(text))
		}
		report(d)
	}
}

// From returns the same garden, which reads further files from there.
func (g *Garden) From(content fs.FS) *Garden {
	out := *g
	out.content = content
	return &out
}

// Values returns the reader of quantities in the handbook's main set.
func (g *Garden) Values() units.Parser { return units.Parser{Set: g.Handbook.Main} }

// File returns a text file of the content folder, such as a table of daily minima. Its path counts from
// that folder and cannot leave it.
func (g *Garden) File(name string) (*diag.File, error) {
	text, err := fs.ReadFile(g.content, name)
	if err != nil {
		return nil, err
	}
	return diag.NewFile(path.Join(g.folder, name), string(text)), nil
}

// Source returns an entry of the grower's own measurements or of the reference.
func (g *Garden) Source(key string) (sources.Entry, bool) {
	if e, ok := g.own.Get(key); ok {
		return e, true
	}
	return g.ref.Source(key)
}

// reader reads files of the content folder.
type reader struct {
	content fs.FS
	name    string
	values  units.Parser
	report  func(diag.Diagnostic)
}

// file returns the root of a YAML file, nil when there is no such file or it cannot be read, which is reported.
func (r reader) file(name string) *form.Node {
	full := path.Join(r.name, name)
	text, err := fs.ReadFile(r.content, name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		r.report(diag.Unread(diag.Whole(full), "this file", err))
		return nil
	}
	return form.Read(form.FileSource(diag.NewFile(full, string(text)), r.values, r.report))
}

// A RecipeFile is a recipe without a note.
type RecipeFile struct {
	ID   string
	At   diag.Position
	Node *form.Node // the block's own fields
	Name string     // path in the content folder
	Text string
}

const recipeEnding = ".recipe.yaml"

// readRecipes finds every recipe file. The blends that it brings along join the cupboard where the
// cupboard does not know them.
func (g *Garden) readRecipes(r reader) {
	_ = fs.WalkDir(r.content, ".", func(name string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() && strings.HasSuffix(name, recipeEnding) {
			g.readRecipe(r, name)
		}
		return nil // a folder that cannot be read is reported where notes are found
	})
}

func (g *Garden) readRecipe(r reader, name string) {
	text, _ := fs.ReadFile(r.content, name)
	root := r.file(name)
	if strings.TrimSpace(string(text)) == "" {
		r.report(diag.Errorf(diag.Whole(path.Join(r.name, name)), "empty-recipe", "this recipe file is empty").Hint("write \"recipe: ID\" first, then the fields of a recipe; see: trug show --help recipe"))
	}
	if root.Mapping(); !root.IsMapping() {
		return // reported
	}
	id, rest, ok := g.recipeFields(root)
	if !ok {
		return
	}
	g.Recipes = append(g.Recipes, RecipeFile{id, root.Mapping().Get("recipe").At(), rest, name, string(text)})
}

// recipeFields reads what a recipe file has beside the fields of its block, and returns those.
func (g *Garden) recipeFields(root *form.Node) (id string, rest *form.Node, ok bool) {
	m := root.Mapping()
	id, ok = form.Value(m.Need("recipe", "write \"recipe: ID\" first"), readID)
	if set := m.Get("measures"); set != nil {
		root.Measure(valueOr(set, readSet, g.Handbook.Main))
	}
	for _, e := range mappingOf(m.Get("amendments")) {
		if !g.inCupboard(e.Name) {
			g.addMaterial(e)
		}
	}
	return id, root.Without("recipe", "measures", "amendments"), ok
}

func readID(text string) (string, error) {
	if kebab.MatchString(text) {
		return text, nil
	}
	return "", units.Faultf(0, "bad-id", "use lower-case letters, digits and hyphens, such as \"spring-tubs\"", "%q is not an id", text)
}

func mappingOf(n *form.Node) []form.Entry {
	if n == nil {
		return nil
	}
	return n.Mapping().Entries
}
