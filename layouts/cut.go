package layouts

import (
	"fmt"
	"html/template"
	"strings"
	"unicode/utf8"

	"trug/calcblocks/kit/view"
)

// The sheet that a cut is drawn on. Its unit is near a pixel on a phone, so text keeps its size there.
const (
	cutWidth   = 326.0
	potLeft    = 46.0  // left of it: the depth of the pot
	potRight   = 174.0 // right of it: the layers' labels
	cutTop     = 30.0  // above it: the width of the rim
	cutTallest = 190.0
	labelLeft  = 196.0
	labelLine  = 15.0
	labelRunes = 15 // that fit beside the pot, in a wide face
)

// layerWords are the kinds of layer, and what one is called without a label.
var layerWords = map[string]string{
	"old": "old mix", "compost": "compost", "mix": "mix", "room": "room to fill", "headspace": "headspace",
}

// cutDrawing is a cut through a pot with its dimensions.
type cutDrawing struct {
	ID         string
	Box        string
	Outline    string
	Assumed    bool
	Layers     []cutLayer
	Marks      []dimension
	Dimensions []dimension
}

// cutLayer is one layer, its label and the line between them.
type cutLayer struct {
	Kind   string
	Shape  string // path
	Leader string
	Lines  []cutText
}

// cutText is a line of text on the drawing.
type cutText struct {
	X, Y string
	Text string
	Bold bool
}

// dimension is a line with ends, and its length.
type dimension struct {
	Line   string
	X, Y   string
	Text   string
	Anchor string // start, middle or end
}

// sectionModel is a cut and the same numbers as a table.
type sectionModel struct {
	here
	Title string
	Label string
	Cut   *cutDrawing
	Rows  []sectionRow
}

type sectionRow struct{ Label, Height, Width string }

func (p printer) section(v view.Section) (template.HTML, error) {
	m := sectionModel{here: p.here("section"), Title: v.Title, Label: potLabel(v.Pot)}
	for i := len(v.Layers) - 1; i >= 0; i-- { // a reader looks from above
		l := v.Layers[i]
		word, known := layerWords[l.Kind]
		if !known {
			return "", fmt.Errorf("layouts: no hatching for a layer of kind %q", l.Kind)
		}
		if l.Label == "" {
			l.Label = word
		}
		m.Rows = append(m.Rows, sectionRow{l.Label, digits(l.ToCM-l.FromCM) + " cm", l.Width})
	}
	for _, mark := range v.Marks {
		m.Rows = append(m.Rows, sectionRow{mark.Label, digits(mark.AtCM) + " cm up", ""})
	}
	m.Cut = drawCut(m.ID, v.Pot, v.Layers, v.Marks...)
	return p.print("section", m)
}

// measured is a pot's own drawing: its mix and its headspace, with the lengths.
func (p printer) measured(pot view.Pot) *cutDrawing {
	var layers []view.Layer
	if pot.FillCM > 0 {
		layers = append(layers, view.Layer{Kind: "mix", Label: "Mix", ToCM: pot.FillCM})
	}
	if pot.FillCM < pot.HeightCM {
		layers = append(layers, view.Layer{Kind: "headspace", Label: "Headspace", FromCM: pot.FillCM, ToCM: pot.HeightCM})
	}
	return drawCut(p.here("cut").ID, pot, layers)
}

// sheet turns heights and widths of a pot into places on the drawing.
type sheet struct {
	pot           view.Pot
	scale, middle float64
	floor         float64
}

// drawCut draws the cut, or returns nil when the lengths make no shape.
func drawCut(id string, pot view.Pot, layers []view.Layer, marks ...view.Mark) *cutDrawing {
	if !drawable(pot) {
		return nil
	}
	scale := min((potRight-potLeft)/max(pot.TopCM, pot.BaseCM), cutTallest/pot.HeightCM)
	s := sheet{pot, scale, (potLeft + potRight) / 2, cutTop + pot.HeightCM*scale}
	d := &cutDrawing{ID: id, Assumed: pot.Assumed, Dimensions: s.dimensions()}
	d.Outline = fmt.Sprintf("M%sL%sL%sL%s", s.at(-1, pot.HeightCM), s.at(-1, 0), s.at(1, 0), s.at(1, pot.HeightCM))
	end := cutTop - 12.0 // where the label above ends
	for i := len(layers) - 1; i >= 0; i-- {
		layer, bottom := s.layer(layers[i], end)
		end = bottom
		d.Layers = append(d.Layers, layer)
	}
	for _, m := range marks {
		d.Marks = append(d.Marks, s.mark(m))
	}
	d.Box = "0 0 " + spot(cutWidth) + " " + spot(max(end, s.floor+24)+4)
	return d
}

// half returns half the width of the pot at a height, on the drawing.
func (s sheet) half(cm float64) float64 {
	return (s.pot.BaseCM + (s.pot.TopCM-s.pot.BaseCM)*cm/s.pot.HeightCM) / 2 * s.scale
}

func (s sheet) y(cm float64) float64 { return s.floor - cm*s.scale }

// at is the place on the left (-1) or right (1) wall at a height.
func (s sheet) at(side, cm float64) string {
	return spot(s.middle+side*s.half(cm)) + " " + spot(s.y(cm))
}

// layer draws a layer and puts its label beside it, or lower where the label above leaves no room. It
// returns the layer and where its label ends.
func (s sheet) layer(l view.Layer, free float64) (cutLayer, float64) {
	from, to := max(l.FromCM, 0), min(l.ToCM, s.pot.HeightCM)
	out := cutLayer{Kind: l.Kind}
	out.Shape = fmt.Sprintf("M%sL%sL%sL%sZ", s.at(-1, to), s.at(-1, from), s.at(1, from), s.at(1, to))
	lines := wrapped(l.Label, labelRunes)
	strong := len(lines)
	size := digits(l.ToCM-l.FromCM) + " cm"
	if l.Width != "" {
		size += ", " + l.Width
	}
	lines = append(lines, wrapped(size, labelRunes)...)
	middle := s.y((from + to) / 2)
	top := max(middle-float64(len(lines))*labelLine/2, free+5)
	for i, text := range lines {
		y := top + float64(i)*labelLine + 11
		out.Lines = append(out.Lines, cutText{spot(labelLeft), spot(y), text, i < strong})
	}
	bracket := potRight + 5
	out.Leader = fmt.Sprintf("M%[1]s %[2]sh4V%[3]sh-4M%[4]s %[5]sL%[6]s %[7]s", spot(bracket), spot(s.y(to)),
		spot(s.y(from)), spot(bracket+4), spot(middle), spot(labelLeft-4), spot(top+7))
	return out, top + float64(len(lines))*labelLine
}

// mark is a dashed line across the pot with its label above it.
func (s sheet) mark(m view.Mark) dimension {
	return dimension{
		Line: fmt.Sprintf("M%sL%s", s.at(-1, m.AtCM), s.at(1, m.AtCM)),
		X:    spot(s.middle), Y: spot(s.y(m.AtCM) - 4), Anchor: "middle", Text: m.Label,
	}
}

// dimensions are the widths of rim and base and the depth.
func (s sheet) dimensions() []dimension {
	tall := s.pot.HeightCM
	across := func(cm, y, text float64) dimension {
		left, right := s.middle-s.half(cm), s.middle+s.half(cm)
		return dimension{
			Line: fmt.Sprintf("M%[1]s %[3]sv8M%[1]s %[4]sH%[2]sM%[2]s %[3]sv8", spot(left), spot(right), spot(y-4), spot(y)),
			X:    spot(s.middle), Y: spot(text), Anchor: "middle", Text: digits(2*s.half(cm)/s.scale) + " cm",
		}
	}
	x := s.middle - max(s.half(tall), s.half(0)) - 10
	deep := dimension{
		Line: fmt.Sprintf("M%[1]s %[2]sh8M%[4]s %[2]sV%[3]sM%[1]s %[3]sh8", spot(x-4), spot(s.y(tall)), spot(s.y(0)), spot(x)),
		X:    spot(x - 5), Y: spot(s.y(tall/2) + 4), Anchor: "end", Text: digits(tall),
	}
	return []dimension{across(tall, cutTop-10, cutTop-17), across(0, s.floor+8, s.floor+23), deep}
}

// wrapped breaks text at spaces into lines of at most n runes; a longer word stays whole.
func wrapped(text string, n int) []string {
	var lines []string
	for _, word := range strings.Fields(text) {
		last := len(lines) - 1
		if last >= 0 && utf8.RuneCountInString(lines[last])+1+utf8.RuneCountInString(word) <= n {
			lines[last] += " " + word
			continue
		}
		lines = append(lines, word)
	}
	return lines
}
