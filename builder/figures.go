package builder

import (
	"fmt"
	"math"
	"math/big"
	"regexp"
	"strings"

	"trug/builder/markdown"
	"trug/builder/notes"
	"trug/builder/site"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/view"
)

const figureScheme = "figure:"

// figure resolves a figure link: "figure:spring-tubs/20-l/cost" is a number of that block. It returns
// the block, the value and the last part of the path, which names the unit.
func (s *rendering) figure(target string, at diag.Position) (*Placed, data.Value, string, bool) {
	id, path, _ := strings.Cut(strings.TrimPrefix(target, figureScheme), "/")
	p, ok := s.Block(id)
	if !ok {
		d := diag.Errorf(at, "dead-figure", "there is no block %q", id)
		if near := diag.Closest(id, s.IDs()); near != "" {
			d = d.Hint("did you mean %q?", near)
		}
		s.Report(d)
		return nil, nil, "", false
	}
	v, ok := data.Find(p.Result.Data, path)
	if len(p.Result.Data) > 0 && (!ok || figureText(path, v, s.Garden.Handbook.Currency) == "") {
		s.Report(diag.Errorf(at, "dead-figure", "the block %q has no figure %q", id, path).Hint("a path is made of names as in its JSON, such as %q; see: trug show %s --as csv", "20-l/cost", id))
		return nil, nil, "", false
	}
	return p, v, path, ok
}

// figureHref leads to the block of a figure: a recipe's page, at the size, or the note that holds it.
func (s *rendering) figureHref(n *notes.Note, target string, at diag.Position) string {
	p, _, path, ok := s.figure(target, at)
	own, has := site.Address(""), false
	if ok {
		own, has = ownAddress(p)
	}
	switch {
	case !ok:
		return ""
	case !has:
		return n.Address.To(p.Note.Address)
	}
	href := n.Address.To(own)
	size, _, _ := strings.Cut(path, "/")
	if _, named := data.Find(p.Result.Data, "sizes/"+size); named {
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
	p, v, path, ok := s.figure(link.Target, link.At)
	if !ok {
		return "", false
	}
	text := figureText(path, v, s.Garden.Handbook.Currency)
	if disagrees(link.Text, text, v) {
		d := diag.Errorf(link.At, "figure-differs", "the text says %q, the block %q says %q", link.Text, p.ID, text)
		d.Severity = diag.Doubt
		s.Report(d.Hint("the page shows the computed one; mend the text"))
	}
	return text, true
}

// unitOf maps the ends of keys to the units that they name.
var unitOf = []struct{ end, unit string }{
	{"mg_per_l", "mg per litre"},
	{"lb_per_sq_ft", "lb per square foot"},
	{"ms_cm", "mS/cm"},
	{"percent", "%"},
	{"grams", "g"},
	{"_g", "g"},
	{"_kg", "kg"},
	{"_kpa", "kPa"},
	{"litres", "L"},
	{"weeks", "weeks"},
	{"ml", "mL"},
}

// figureText prints a figure with its unit: a number, a low and high, a text; "" for anything else.
func figureText(path string, v data.Value, currency string) string {
	if t, ok := v.(data.Text); ok {
		return string(t)
	}
	low, high, ok := ends(v)
	if !ok {
		return ""
	}
	names := strings.Split(path, "/")
	for i := len(names) - 1; i >= 0; i-- {
		if names[i] == "cost" {
			return moneyText(low, high) + " " + currency
		}
		for _, u := range unitOf {
			if names[i] == strings.TrimPrefix(u.end, "_") || strings.HasSuffix(names[i], u.end) {
				return view.Span(low, high) + " " + u.unit
			}
		}
	}
	return view.Span(low, high)
}

func moneyText(low, high float64) string {
	a, b := fmt.Sprintf("%.2f", low), fmt.Sprintf("%.2f", high)
	if a == b {
		return a
	}
	return a + " to " + b
}

// ends returns the two ends of a number or of a low and high.
func ends(v data.Value) (low, high float64, ok bool) {
	switch v := v.(type) {
	case data.Number:
		return float64(v), float64(v), true
	case data.Object:
		a, okLow := v.Get("low").(data.Number)
		b, okHigh := v.Get("high").(data.Number)
		return float64(a), float64(b), okLow && okHigh
	}
	return 0, 0, false
}

var writtenNumber = regexp.MustCompile(`\d+(?:\.(\d+))?(?:/\d+)?`)

// disagrees says whether the first number that the author wrote lies outside the computed span, by more
// than half of its last digit. A computed text must be the same.
func disagrees(written, computed string, v data.Value) bool {
	m := writtenNumber.FindStringSubmatch(written)
	if m == nil {
		return false
	}
	if _, isText := v.(data.Text); isText {
		return !strings.Contains(written, computed)
	}
	number, ok := new(big.Rat).SetString(m[0])
	low, high, known := ends(v)
	if !ok || !known {
		return false
	}
	x, _ := number.Float64()
	half := 0.5 * math.Pow(10, -float64(len(m[1])))
	low, high = min(low, high), max(low, high)
	return x < low-half || x > high+half
}
