package layouts

import (
	"html/template"
	"math"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"trug/calcblocks/kit/sources"
)

// words are the functions that templates may call.
var words = template.FuncMap{
	"heading":    heading,
	"date":       date,
	"web":        web,
	"cites":      func(root string, keys []string) citations { return citations{root, keys} },
	"confidence": confidence,
}

// citations are keys of works, to be printed as links into the sources page.
type citations struct {
	Root string
	Keys []string
}

// heading prints a title at a level from 1 to 6; no text, no heading. A template cannot name an element
// by its data, so it is made here.
func heading(level int, text string) template.HTML {
	if text == "" {
		return ""
	}
	tag := "h" + levelText(level)
	return template.HTML("<" + tag + ">" + template.HTMLEscapeString(text) + "</" + tag + ">")
}

// date writes 2027-04-12 as 12 April 2027 and leaves any other text as it is.
func date(iso string) string {
	day, err := time.Parse(time.DateOnly, iso)
	if err != nil {
		return iso
	}
	return day.Format("2 January 2006")
}

// web says whether an address may become a link: a source's address is data, and only http and https
// open a page.
func web(address string) bool {
	return strings.HasPrefix(address, "https://") || strings.HasPrefix(address, "http://")
}

// confidence says in words how far a figure's citation was followed; "" for a word that it does not know.
func confidence(c sources.Confidence) string {
	switch c {
	case sources.Checked:
		return "The text of this source was read."
	case sources.SecondHand:
		return "Known from a copy, a quotation or an abstract only."
	case sources.Derived:
		return "Computed from other figures here."
	case sources.CommonPractice:
		return "Habit of the trade; no authority behind it."
	case sources.FromMemory:
		return "Recalled, and not yet checked."
	case sources.OwnMeasurement:
		return "The grower's own label or weighed cup."
	}
	return ""
}

// digits writes a number with at most three significant digits and no exponent.
func digits(x float64) string {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return "0"
	}
	scale := math.Pow(10, 2-math.Floor(math.Log10(math.Abs(x))))
	if scale > 1 {
		x = math.Round(x*scale) / scale
	} else {
		x = math.Round(x)
	}
	return strconv.FormatFloat(x, 'f', -1, 64)
}

// spot writes a length inside a drawing: to a tenth of its unit, which no screen shows.
func spot(x float64) string {
	return strconv.FormatFloat(math.Round(x*10)/10+0, 'f', -1, 64)
}

// A term is one part of a measure: its number stands large, its words beside it.
type term struct{ Before, Number, Unit string }

// ends takes "2 tbsp to 1/4 cup + 1 tsp" apart: the two ends of a range, or the one, in terms.
func ends(measure string) [][]term {
	var out [][]term
	for _, end := range strings.Split(measure, " to ") {
		if end != "" {
			out = append(out, terms(end))
		}
	}
	return out
}

// terms takes "1 1/2 cup + 2 tbsp" apart at the plus signs.
func terms(measure string) []term {
	var out []term
	var t term
	for _, word := range strings.Fields(measure) {
		switch {
		case word == "+":
			out = append(out, t)
			t = term{}
		case numeral(word):
			t.Number = spaced(t.Number, word)
		case t.Number == "":
			t.Before = spaced(t.Before, word)
		default:
			t.Unit = spaced(t.Unit, word)
		}
	}
	if t != (term{}) {
		out = append(out, t)
	}
	return out
}

func numeral(word string) bool {
	r, _ := utf8.DecodeRuneInString(word)
	return unicode.IsNumber(r)
}

func spaced(a, b string) string {
	if a == "" {
		return b
	}
	return a + " " + b
}
