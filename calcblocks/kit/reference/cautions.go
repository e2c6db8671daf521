package reference

import (
	"slices"
	"strings"

	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/view"
)

// A Caution is a text to be printed as it stands, and what calls for it.
type Caution struct {
	ID          string
	Word        string   // what it is about, for a heading: "Caustic ash"
	Hazards     []string // of an amendment or ingredient
	Amendments  []string
	WithHazards []string // only together with one of these
	Tasks       []string // what the grower is doing
	Always      bool     // on every recipe and card
	Text        string
	DeferTo     []string // label, local-code, licensed-practice
	Source      []string
	Confidence  sources.Confidence // of the figures and claims in the text
	Note        string
}

// Applies says whether the nature of one amendment calls for the caution: its id or one of its hazards is
// named. What WithHazards asks of the other amendments is left to the caller.
func (c *Caution) Applies(a *Amendment) bool {
	return slices.Contains(c.Amendments, a.ID) || overlap(c.Hazards, a.Hazards)
}

// View returns the caution as a part for people.
func (c *Caution) View() view.Caution {
	return view.Caution{ID: c.ID, Word: c.Word, Text: c.Text, Defer: deference(c.DeferTo), Sources: c.Source}
}

// deference says whom to follow instead of this page.
func deference(to []string) string {
	words := map[string]string{
		"label":             "Follow the label.",
		"local-code":        "Keep to the rules where you live.",
		"licensed-practice": "Ask a licensed professional (a doctor, a veterinarian, an engineer).",
	}
	var out []string
	for _, key := range to {
		out = append(out, words[key])
	}
	return strings.Join(out, " ")
}

func overlap(a, b []string) bool {
	return slices.ContainsFunc(a, func(s string) bool { return slices.Contains(b, s) })
}

// Caution returns the caution with an id.
func (l *Library) Caution(id string) (*Caution, bool) {
	return find(l.Cautions, id, func(c *Caution) string { return c.ID })
}

var cautionSections = []string{
	"hazards", "tasks", "cautions", "metal_limits", "lead_in_produce", "lifting_equation",
	"herbicide_bioassay", "compost_maturity_checks",
}

func (r *reader) cautions(l *Library, root *form.Node) {
	m := root.Fields(cautionSections...)
	l.Hazards, l.Tasks = r.texts(m.Need("hazards", "")), r.texts(m.Need("tasks", ""))
	for _, item := range m.Need("cautions", "").Items() {
		l.Cautions = append(l.Cautions, r.caution(item))
	}
}

func (r *reader) caution(n *form.Node) *Caution {
	m := n.Fields("id", "word", "applies_to", "text", "defer_to", "source", "confidence", "note")
	to := m.Need("applies_to", "").Fields("hazards", "amendments", "with_hazards", "tasks", "always")
	return &Caution{
		ID: r.need(m, "id"), Word: r.need(m, "word"), Text: r.need(m, "text"), Note: r.text(m.Get("note")),
		Hazards: r.texts(to.Get("hazards")), Amendments: r.texts(to.Get("amendments")),
		WithHazards: r.texts(to.Get("with_hazards")), Tasks: r.texts(to.Get("tasks")),
		Always:  r.flag(to.Get("always")),
		DeferTo: r.texts(m.Need("defer_to", "")), Source: r.texts(m.Need("source", "")),
		Confidence: r.confidence(m.Get("confidence")),
	}
}

func (r *reader) flag(n *form.Node) bool {
	switch n.Raw() {
	case "true":
		return true
	case "false":
		return false
	}
	n.Fault("not-flag", "", "%q is neither true nor false", n.Raw())
	return false
}
