package vessel

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/units"
)

// shapes says how each shape is written; the hint of every fault in it.
var shapes = map[string]string{
	"round":   `write "round 30 cm top 24 cm base 28 cm deep"`,
	"trough":  `write length x width x depth, such as "trough 60 x 20 x 18 cm"`,
	"oval":    `write length x width x depth, such as "oval 60 x 40 x 30 cm"`,
	"nursery": `write "nursery class 5"`,
}

var shapeWords = []string{"round", "trough", "oval", "nursery"}

// Parse reads a container by volume ("20 L", "5 gal"), by inside measures ("round 30 cm top 24 cm base
// 28 cm deep", "round 12 in top", "trough 60 x 20 x 18 cm base 54 x 14 cm", "oval 60 x 40 x 30 cm") or by
// nursery class ("nursery class 5"). Depths reach from base to fill line. The error is a *units.Fault.
func Parse(text string, p units.Parser) (Vessel, error) {
	r := reader{text: text, values: p}
	v, f := r.vessel()
	if f != nil {
		return Vessel{}, f
	}
	if _, held := v.FillVolume(); checkHeld(text, held) != nil {
		return Vessel{}, checkHeld(text, held)
	}
	v.Text = strings.TrimSpace(text)
	return v, nil
}

// A reader reads one container. A part is a piece of its text with its place in characters.
type reader struct {
	text   string
	values units.Parser
}

type part struct {
	text  string
	start int
}

// part returns the bytes from..to of the text without blanks round them.
func (r reader) part(from, to int) part {
	piece := r.text[from:to]
	lead := len(piece) - len(strings.TrimLeft(piece, " \t"))
	return part{strings.TrimSpace(piece), utf8.RuneCountInString(r.text[:from+lead])}
}

var firstWord = regexp.MustCompile(`^\s*([\p{L}#]+)`)

func (r reader) vessel() (Vessel, *units.Fault) {
	m := firstWord.FindStringSubmatchIndex(r.text)
	if m == nil {
		return r.volume()
	}
	word := strings.ToLower(r.text[m[2]:m[3]])
	switch word {
	case "round":
		return r.round(m[3])
	case "trough":
		return r.box(m[3], Trough, word)
	case "oval":
		return r.box(m[3], Oval, word)
	case "nursery":
		return r.nursery(m[3])
	case "a", "an":
		return r.volume()
	}
	return Vessel{}, unknownShape(r.part(m[2], m[3]))
}

// alike are other words for a shape.
var alike = map[string]string{
	"square": "trough", "rectangular": "trough", "rectangle": "trough", "box": "trough", "planter": "trough",
	"cylinder": "round", "cylindrical": "round", "circular": "round", "circle": "round",
}

func unknownShape(word part) *units.Fault {
	hint := `write a volume such as "20 L", or "round", "trough", "oval" or "nursery class" with inside measures`
	switch near := diag.Closest(strings.ToLower(word.text), shapeWords); {
	case strings.HasPrefix(word.text, "#"), strings.EqualFold(word.text, "class"):
		hint = shapes["nursery"]
	case alike[strings.ToLower(word.text)] != "":
		hint = shapes[alike[strings.ToLower(word.text)]]
	case near != "":
		hint = "did you mean \"" + near + "\"?"
	}
	return units.Faultf(word.start, "unknown-shape", hint, "%q is not a shape of container", word.text)
}

var (
	nurseryWords = regexp.MustCompile(`(?i)\b(nursery|trade|pots?|containers?|class)\b`)
	rangeWord    = regexp.MustCompile(`(?i)\sto\s`)
)

// volume reads a bare volume. "5 gal nursery pot" is a class of the trade, not a volume, and refused.
func (r reader) volume() (Vessel, *units.Fault) {
	whole := r.part(0, len(r.text))
	switch {
	case nurseryWords.MatchString(whole.text):
		at := nurseryWords.FindStringIndex(r.text)
		return Vessel{}, units.Faultf(r.part(at[0], at[1]).start, "nominal-size",
			"measure the litres that it holds, or write \"nursery class 5\", which is a range",
			"%q names a size of the trade, not a volume", whole.text)
	case rangeWord.MatchString(whole.text):
		return Vessel{}, units.Faultf(whole.start, "volume-range", "measure it, and write one volume such as \"20 L\"",
			"a container has one volume, and %q is a range", whole.text)
	}
	volume, err := r.values.Volume(r.text)
	if err != nil {
		return Vessel{}, asFault(err)
	}
	return Of(volume), nil
}

var classText = regexp.MustCompile(`(?i)^class\s+#?(\S+)$`)

func (r reader) nursery(from int) (Vessel, *units.Fault) {
	rest := r.part(from, len(r.text))
	known := "the classes are " + strings.Join(ClassNames(), ", ")
	m := classText.FindStringSubmatchIndex(rest.text)
	if m == nil {
		f := units.Faultf(rest.start, "bad-class", shapes["nursery"], "a nursery container is named by its class")
		f.Hints = append(f.Hints, known)
		return Vessel{}, f
	}
	name := rest.text[m[2]:m[3]]
	v, ok := OfClass(name)
	if !ok {
		at := rest.start + utf8.RuneCountInString(rest.text[:m[2]])
		return Vessel{}, units.Faultf(at, "unknown-class", known, "there is no nursery class %q", name)
	}
	return v, nil
}

// asFault returns the fault that a reader of units returned as an error.
func asFault(err error) *units.Fault {
	if f, ok := err.(*units.Fault); ok {
		return f
	}
	return units.Faultf(0, "bad-container", "", "%s", err)
}

var unitWord = regexp.MustCompile(`\p{L}+\s*$`)

// lengths reads measures that follow each other. One without a unit takes the unit of the next that has
// one: the unit may stand once at the end.
func (r reader) lengths(parts []part, hint string) ([]float64, lengthUnit, *units.Fault) {
	out := make([]float64, len(parts))
	unit := ""
	for i := len(parts) - 1; i >= 0; i-- {
		text := parts[i].text
		if own := unitWord.FindString(text); own != "" {
			unit = own
		} else {
			text += " " + unit
		}
		length, err := r.values.Length(text)
		if err != nil {
			return nil, lengthUnit{}, r.bad(parts[i], unit, hint, err)
		}
		out[i] = length.Float()
	}
	return out, shownIn(unit), nil
}

// bad returns the fault of a measure at its place.
func (r reader) bad(p part, unit, hint string, err error) *units.Fault {
	switch {
	case p.text == "":
		return units.Faultf(p.start, "no-number", hint, "a measure is missing here")
	case unit == "" && strings.IndexFunc(p.text, unicode.IsDigit) == 0:
		return units.Faultf(p.start, "no-unit", "write the unit after the last measure, such as \"cm\"", "%q has no unit", p.text)
	}
	return asFault(err).At(p.start)
}

// shownIn returns the unit for messages: inches for feet too, and cm for units too long for a pot.
func shownIn(word string) lengthUnit {
	switch strings.ToLower(strings.TrimSpace(word)) {
	case "in", "inch", "inches", "ft", "foot", "feet":
		return lengthUnit{"in", 2.54}
	case "mm", "millimetre", "millimetres", "millimeter", "millimeters":
		return lengthUnit{"mm", 0.1}
	}
	return lengthUnit{"cm", 1}
}
