package builder

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
	"time"
	"unicode"

	"trug/builder/history"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

// readHistory reads what the numbers were; without the file there is no history.
func (h *Handbook) readHistory(folder string) {
	name := path.Join(folder, history.File)
	text, err := fs.ReadFile(h.files, history.File)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		h.Report(diag.Unread(diag.Whole(name), "this file", err))
	default:
		h.recorded = sumOf(string(text))
		h.History = history.Read(diag.NewFile(name, string(text)), h.Report)
	}
}

// Changed is a block whose numbers are not those of its last record.
type Changed struct {
	Block, Title string
	Since        time.Time // of the last record; zero = never recorded
	Numbers      []history.Difference
	Why          []history.Difference // what the numbers rest on, where that differs
}

// Records returns the numbers of every published block with an id as they are now.
func (h *Handbook) Records() []history.Record {
	var out []history.Record
	for _, p := range h.Blocks {
		if stamp := p.brief.stamp; p.ID != "" && stamp != "" && p.visible() {
			out = append(out, h.record(p, stamp))
		}
	}
	return out
}

// Changes compares every block with its last record. A block that was never recorded is new.
func (h *Handbook) Changes() []Changed {
	var out []Changed
	for _, now := range h.History.Due(h.Records()) {
		last, _ := h.History.Last(now.Block)
		out = append(out, Changed{
			Block: now.Block, Title: now.Title, Since: last.On,
			Numbers: history.Compare(last.Numbers, now.Numbers), Why: causes(last.Basis, now.Basis),
		})
	}
	return out
}

// due counts the blocks whose numbers are not those of their last record.
func (h *Handbook) due() int {
	last := map[string]string{}
	for _, r := range h.History {
		last[r.Block] = r.Stamp
	}
	n := 0
	for _, p := range h.Blocks {
		if stamp := p.brief.stamp; last[p.ID] != "" && stamp != "" && stamp != last[p.ID] && p.visible() {
			n++
		}
	}
	return n
}

const potPrefix = "pots.yaml, "

// frostName is what the dates rest on.
const frostName = "handbook.yaml, frost"

// causes compares what numbers rested on. A pot or a frost that was not written down the last time says nothing: what
// brought it in, the note or the usual sizes, did.
func causes(was, is []history.Entry) []history.Difference {
	return slices.DeleteFunc(history.Compare(was, is), func(d history.Difference) bool {
		return d.Was == "" && (strings.HasPrefix(d.Name, potPrefix) || d.Name == frostName)
	})
}

// frostOf writes the frost dates as the handbook file has them.
func frostOf(hb garden.Handbook) string {
	day := func(d units.MonthDay) string { return fmt.Sprintf("%02d-%02d", int(d.Month), d.Day) }
	if hb.Minima != "" {
		return "minima " + hb.Minima
	}
	return "spring " + day(hb.Spring) + ", autumn " + day(hb.Autumn)
}

// Recorded returns the history with what is due written down on a day.
func (h *Handbook) Recorded(on time.Time) history.History {
	out := slices.Clone(h.History)
	for _, r := range h.History.Due(h.Records()) {
		r.On = on
		out = append(out, r)
	}
	return out
}

func (h *Handbook) record(p *Placed, stamp string) history.Record {
	r := history.Record{Block: p.ID, Title: p.Result.Title, Stamp: stamp}
	r.Numbers = collected(p.Result.View.Parts, string(h.Garden.Handbook.Main))
	r.Basis = append(r.Basis, history.Entry{Name: h.within(p.At) + ", as written", Text: digest(p.Source)})
	hb := h.Garden.Handbook
	r.Basis = append(r.Basis, history.Entry{Name: "handbook.yaml", Text: fmt.Sprintf("measures %s, rounding %s, currency %s", hb.Main, hb.Rounding, hb.Currency)})
	if p.Kind.Name == "dates" {
		r.Basis = append(r.Basis, history.Entry{Name: frostName, Text: frostOf(hb)})
	}
	for _, f := range p.Result.Facts {
		use, ok := f.(facts.Use)
		if m, known := h.Garden.Material(use.Amendment); ok && known {
			r.Basis = append(r.Basis, history.Entry{Name: materialPlace(m), Text: materialFigures(m)})
		}
	}
	named := strings.FieldsFunc(p.Source, func(r rune) bool { return r != '-' && !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	sizes := sizesOf(p.Result.View.Parts)
	for _, pot := range h.Garden.Pots {
		if slices.Contains(named, pot.ID) || slices.Contains(sizes, pot.Name) {
			low, high := container(pot).Litres()
			r.Basis = append(r.Basis, history.Entry{Name: potPrefix + pot.ID, Text: view.Span(low, high) + " L"})
		}
	}
	return r
}

// sizesOf returns the labels of the sizes that a view shows: pots of the handbook file are named in no block.
func sizesOf(parts []view.Part) []string {
	var out []string
	for _, part := range parts {
		if sizes, ok := part.(view.Sizes); ok {
			for _, size := range sizes.Items {
				out = append(out, size.Label)
			}
		}
	}
	return out
}

// within names a file from the content folder, so that the history is the same wherever it lies.
func (h *Handbook) within(at diag.Position) string {
	return strings.TrimPrefix(at.Name(), h.folder+"/")
}

// digest is a short code of a text: it tells that the text changed, not how.
func digest(text string) string { return fmt.Sprintf("%x", sha256.Sum256([]byte(text)))[:10] }

func materialPlace(m *garden.Material) string {
	if m.InCupboard {
		return "cupboard.yaml, " + m.ID
	}
	return "reference, " + m.ID
}

// materialFigures writes the figures of a material that numbers rest on.
func materialFigures(m *garden.Material) string {
	var out []string
	for _, n := range reference.Nutrients {
		if f := m.Content(n); f.Known {
			out = append(out, n.Symbol()+" "+view.Span(f.Low, f.High)+" %")
		}
	}
	if d := m.Density(); d.Known {
		out = append(out, view.Number(d.Typical)+" g/mL")
	}
	if cost, ok := m.Price(units.SomeMass{Low: 1000, Typical: 1000, High: 1000}); ok {
		out = append(out, fmt.Sprintf("%.2f a kilogram", cost.Typical/100))
	}
	return strings.Join(out, ", ")
}

// news returns the changes that the history records, for the feed: each record but a block's first,
// compared with the one before.
func (h *Handbook) news() []Change {
	var out []Change
	for i, r := range h.History {
		if before, ok := h.History[:i].Last(r.Block); ok {
			all := history.Compare(before.Numbers, r.Numbers)
			out = append(out, Change{Date: r.On, BlockID: r.Block, Title: r.Title, Text: inWords(all, mostTold), Short: inWords(all, fewTold)})
		}
	}
	return out
}

// How many differences a text names before it counts the rest, and one in a list.
const mostTold, fewTold = 12, 2

// AsItWas is said of a block of which no number differs that a reader acts on, while its stamp does.
const AsItWas = "what goes in is as it was; what else it tells changed"

func inWords(all []history.Difference, most int) string {
	if len(all) == 0 {
		return AsItWas
	}
	var out []string
	for i, d := range all {
		if i == most {
			out = append(out, fmt.Sprintf("and %d more", len(all)-most))
			break
		}
		out = append(out, d.String())
	}
	return strings.Join(out, "; ")
}
