package builder

import (
	"fmt"
	"net/url"
	"slices"
	"strings"
	"unicode/utf8"

	"trug/builder/markdown"
	"trug/builder/notes"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/units"
)

const figureScheme = "figure:"

// A figure is what a figure link names: "figure:spring-tubs/20-l/cost" is a number of the block
// "spring-tubs", found as data.Seek finds it.
type figure struct {
	data.Finding
	block *Placed
	unit  string // of its numbers
	text  string // as it stands in prose
}

// figure resolves a figure link and reports one that leads to no figure.
func (s *rendering) figure(target string, at diag.Position) (figure, bool) {
	f, wrong := s.resolve(target, at)
	if wrong != nil {
		s.Report(*wrong)
	}
	return f, f.text != ""
}

// resolve finds the figure of a link, or says what is wrong with the link. Neither comes of a block whose own faults
// stop the build.
func (h *Handbook) resolve(target string, at diag.Position) (figure, *diag.Diagnostic) {
	at = at.Shift(len(figureScheme))
	id, path, _ := strings.Cut(strings.TrimPrefix(target, figureScheme), "/")
	p, ok := h.Block(id)
	if !ok || id == "" {
		return figure{}, h.noBlock(id, at)
	}
	if len(p.Result.Data) == 0 {
		return figure{}, nil
	}
	if plain, err := url.PathUnescape(path); err == nil {
		path = plain
	}
	if path != "" {
		at = at.Shift(utf8.RuneCountInString(id) + 1)
	}
	found, missed := h.seek(p, path)
	if missed != nil && (p.misread || p.faulty || h.Garden.Faulty()) {
		return figure{}, nil
	}
	if missed != nil {
		return figure{}, h.noFigure(p, missed, at)
	}
	f := figure{Finding: found, block: p, unit: unitFor(found.Path, p.Result.Data, h.Garden.Handbook.Currency)}
	if f.text = figureText(found.Value, f.unit, h.Garden.Handbook); f.text == "" {
		return f, f.wordless(path, at)
	}
	return f, nil
}

// seek looks a path up, with the handbook's own measures before the others.
func (h *Handbook) seek(p *Placed, path string) (data.Finding, *data.Miss) {
	main := string(h.Garden.Handbook.Main)
	found, missed := data.Seek(p.Result.Data, path, main)
	if named := h.withNames(path); missed != nil && named != path {
		if again, still := data.Seek(p.Result.Data, named, main); still == nil {
			return again, nil
		}
	}
	return found, missed
}

// withNames puts the names of pots in the place of their ids: a size goes by the name.
func (h *Handbook) withNames(path string) string {
	names := strings.Split(path, "/")
	for i, name := range names {
		if at := slices.IndexFunc(h.Garden.Pots, func(p garden.Pot) bool { return p.ID == name }); at >= 0 {
			names[i] = data.Slug(h.Garden.Pots[at].Name)
		}
	}
	return strings.Join(names, "/")
}

// figureHref leads to the block of a figure: a page of its own, at the size, or the note that holds it.
func (s *rendering) figureHref(n *notes.Note, target string, at diag.Position) string {
	f, ok := s.figure(target, at)
	if !ok {
		return ""
	}
	own, has := ownAddress(f.block)
	switch {
	case !f.block.visible():
		d := diag.Errorf(at, "figure-hidden", "the block %q stands in a note that is not published", f.block.ID)
		d.Severity = diag.Doubt
		s.Report(d.Hint("the number is shown without a link; publish the note to let readers see how it is made"))
		return ""
	case !has:
		return n.Address.To(f.block.Note.Address)
	}
	href := n.Address.To(own)
	if size, ok := strings.CutPrefix(f.Path, "sizes/"); ok {
		size, _, _ = strings.Cut(size, "/")
		href += "#for-" + size
	}
	return href
}

// figureWords is the computed text that stands in a figure link's place. A number in the author's text
// that disagrees is a doubt.
func (s *rendering) figureWords(link markdown.Link) (string, bool) {
	if !strings.HasPrefix(link.Target, figureScheme) {
		return "", false
	}
	f, ok := s.figure(link.Target, link.At)
	if !ok {
		return "", false
	}
	if !f.block.misread && disagrees(link.Text, f, s.Garden.Handbook) {
		d := diag.Errorf(link.At, "figure-differs", "the text says %q, the block %q says %q", link.Text, f.block.ID, f.text)
		d.Severity = diag.Doubt
		s.Report(d.Hint("the page shows the computed one; mend the text"))
	}
	return f.text, true
}

func (h *Handbook) noBlock(id string, at diag.Position) *diag.Diagnostic {
	var ids []string
	for _, p := range h.Blocks {
		if p.ID != "" && p.Kind.Name != "page" && !p.Implied() {
			ids = append(ids, p.ID)
		}
	}
	hint := "blocks with an id are " + listed(ids)
	if near := nearIDs(id, ids); len(near) > 0 {
		hint = fmt.Sprintf("did you mean %s?", oneOf(near))
	} else if len(ids) == 0 {
		hint = "give the block an id behind its kind, such as \"recipe spring-tubs\""
	}
	return deadFigure(at, []string{hint}, "there is no block %q", id)
}

func deadFigure(at diag.Position, hints []string, format string, args ...any) *diag.Diagnostic {
	d := diag.Errorf(at, "dead-figure", format, args...)
	for _, hint := range hints {
		d = d.Hint("%s", hint)
	}
	return &d
}

// noFigure says where a path, which begins at a position, left the block's figures, and what there is.
func (h *Handbook) noFigure(p *Placed, m *data.Miss, at diag.Position) *diag.Diagnostic {
	pot, isPot := h.standing(m.Step)
	switch here := listed(asides(m.Here)); {
	case len(m.Between) > 0:
		return deadFigure(at, []string{"say which: " + listed(withoutSizes(m.Between))}, "the path %q of the block %q fits several figures", m.Good, p.ID)
	case m.Step == "":
		return deadFigure(at, []string{"add one of " + here}, "the link to the block %q ends before it names a figure", p.ID)
	case m.Good == "" && p.Kind.Name == "recipe" && isPot:
		return deadFigure(at, []string{fmt.Sprintf("add %s to its sizes", pot)}, "the recipe %q is not worked out for the pot %q", p.ID, pot)
	case m.Good == "":
		return deadFigure(at, append(slipHints(p, m), "it holds "+here), "the block %q has no %q", p.ID, m.Step)
	default:
		at = at.Shift(utf8.RuneCountInString(m.Good) + 1)
		return deadFigure(at, append(slipHints(p, m), fmt.Sprintf("%q holds %s", m.Good, here)), "the block %q has no %q in %q", p.ID, m.Step, m.Good)
	}
}

// standing finds a pot that is there by its id, or by its name as a path has it.
func (h *Handbook) standing(name string) (id string, ok bool) {
	for _, pot := range h.Garden.Standing() {
		if name != "" && (pot.ID == name || data.Slug(pot.Name) == name) {
			return pot.ID, true
		}
	}
	return "", false
}

// slipHints says what a name that stands nowhere may have meant.
func slipHints(p *Placed, m *data.Miss) []string {
	if p.Kind.Name == "recipe" && isVolume(m.Step) {
		return []string{"a size that the recipe does not have yet goes into its sizes"}
	}
	if near := diag.Closest(m.Step, append(slices.Clone(m.Here), m.Below...)); near != "" {
		return []string{fmt.Sprintf("did you mean %q?", near)}
	}
	return nil
}

// withoutSizes writes paths as they may be written.
func withoutSizes(paths []string) []string {
	out := make([]string, len(paths))
	for i, path := range paths {
		out[i] = strings.TrimPrefix(path, "sizes/")
	}
	return out
}

// wordless is for a path to what cannot stand in a sentence.
func (f figure) wordless(path string, at diag.Position) *diag.Diagnostic {
	if unknown(f.Value) {
		return deadFigure(at, []string{lacking(f)}, "the figure %q of the block %q is not known", path, f.block.ID)
	}
	return deadFigure(at, []string{"add one of " + listed(data.Names(f.Value))}, "%q of the block %q is more than one figure", path, f.block.ID)
}

// unknown says whether there is nothing to show: null, ends that are null, a list without members.
func unknown(v data.Value) bool {
	switch v := v.(type) {
	case data.Null:
		return true
	case data.List:
		return len(v) == 0
	case data.Object:
		_, null := v.Get("low").(data.Null)
		return null
	}
	return false
}

// lacking says why a figure is not known.
func lacking(f figure) string {
	if o, ok := f.Value.(data.Object); ok {
		var missing []string
		list, _ := o.Get("missing").(data.List)
		for _, id := range list {
			missing = append(missing, text(id))
		}
		if len(missing) > 0 {
			return fmt.Sprintf("what it rests on is not known of %s", listed(missing))
		}
	}
	return fmt.Sprintf("a price, a label or a density may be missing; see: trug show %s", f.block.ID)
}

// asides puts what is seldom wanted in prose behind the rest.
func asides(names []string) []string {
	out := slices.Clone(names)
	rank := func(name string) int {
		return 1 + slices.Index([]string{"id", "kind", "stamp", "cautions", "sources"}, name)
	}
	slices.SortStableFunc(out, func(a, b string) int { return rank(a) - rank(b) })
	return out
}

// fewNames is how many names a hint lists.
const fewNames = 12

func listed(names []string) string {
	if more := len(names) - fewNames; more > 1 {
		return fmt.Sprintf("%s and %d more", strings.Join(names[:fewNames], ", "), more)
	}
	return strings.Join(names, ", ")
}

// nearIDs returns up to three ids that may have been meant: one that a slip turns into id first, then those that
// share a longer word with it.
func nearIDs(id string, ids []string) []string {
	var near []string
	if slip := diag.Closest(id, ids); slip != "" {
		near = append(near, slip)
	}
	for _, other := range ids {
		if len(near) < 3 && !slices.Contains(near, other) && shareWord(id, other) {
			near = append(near, other)
		}
	}
	return near
}

// shareWord says whether two names have a word of four letters or more in common.
func shareWord(a, b string) bool {
	parts := func(s string) []string {
		return strings.FieldsFunc(s, func(r rune) bool { return strings.ContainsRune("-_ ", r) })
	}
	return slices.ContainsFunc(parts(a), func(word string) bool { return len(word) >= 4 && slices.Contains(parts(b), word) })
}

func oneOf(names []string) string {
	quoted := make([]string, len(names))
	for i, name := range names {
		quoted[i] = fmt.Sprintf("%q", name)
	}
	return strings.Join(quoted, " or ")
}

// isVolume says whether a name reads as a size: "25-l", "5-gal".
func isVolume(name string) bool {
	_, err := units.Parser{}.Volume(strings.ReplaceAll(name, "-", " "))
	return err == nil
}
