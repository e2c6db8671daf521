package pothistory

import (
	"fmt"
	"strings"
	"time"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/rotation"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

// Day prints a day.
func Day(on time.Time) string { return on.Format(time.DateOnly) }

// Words says what an event was: "planted pepper, 2 plants", "renewed with Spring renewal (langbeinite)".
func (h *History) Words(e facts.Event) string {
	out := e.Did
	if e.Crop != "" {
		out += " " + rotation.PlantName(e.Crop)
	}
	if e.Plants > 0 {
		out += ", " + counted(e.Plants, "plant")
	}
	if e.With != "" {
		out += " with " + h.withWords(e)
	}
	switch {
	case whole(e.Fresh):
		out += ", all of the mix new"
	case e.Fresh.High > 0:
		out += ", " + percent(e.Fresh) + " of the mix new"
	}
	if e.OldMixTo != "" {
		out += ", old mix to " + h.goal(e.OldMixTo)
	}
	if e.Yield.Sign() > 0 {
		out += ", " + h.Weight(e.Yield)
	}
	return out
}

func (h *History) withWords(e facts.Event) string {
	if m, ok := h.garden.Material(e.With); ok && h.titles[e.With] == "" {
		out := care.InWords(m)
		if e.Amount != "" {
			out += ", " + e.Amount
		}
		return out
	}
	out := e.With
	if title := h.titles[e.With]; title != "" {
		out = title
	}
	if len(e.Picks) > 0 {
		out += " (" + strings.Join(e.Picks, ", ") + ")"
	}
	return out
}

// goal names where old mix goes.
func (h *History) goal(to string) string {
	switch to {
	case "heap":
		return "the heap"
	case "discard":
		return "the rubbish"
	}
	return h.Name(to)
}

// Remarks joins what was noted of an event and what was found.
func Remarks(e facts.Event) string {
	if e.Disease == "" || strings.Contains(strings.ToLower(e.Note), strings.ToLower(e.Disease)) {
		return e.Note
	}
	if e.Note == "" {
		return view.Capital(e.Disease)
	}
	return e.Note + " (" + e.Disease + ")"
}

// Weight prints the mass of a harvest: kilograms, and pounds where the handbook measures in US units.
func (h *History) Weight(m units.Mass) string {
	const gramsPerPound = 453.59237 // NIST SP 811
	text := view.Number(m.Float()) + " g"
	if m.Float() >= 1000 {
		text = view.Number(m.Float()/1000) + " kg"
	}
	if h.garden.Handbook.Main == units.US {
		text += " (" + view.Number(m.Float()/gramsPerPound) + " lb)"
	}
	return text
}

// percent prints a share, its ends where they differ.
func percent(s units.SomeShare) string { return view.Span(100*s.Low, 100*s.High) + " %" }

func counted(n int, one string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %ss", n, one)
}
