package vessel

import (
	"regexp"
	"strings"
	"unicode/utf8"

	"trug/calcblocks/kit/units"
)

var (
	roundWord = regexp.MustCompile(`(?i)\b(?:top|base|deep)\b`)
	baseWord  = regexp.MustCompile(`(?i)\bbase\b`)
	timesSign = regexp.MustCompile(`[xX×]`)
)

// split returns the parts of the bytes from..to round the matches of a separator, and the separators.
func (r reader) split(from, to int, separator *regexp.Regexp) (parts, separators []part) {
	start := from
	for _, m := range separator.FindAllStringIndex(r.text[from:to], -1) {
		parts = append(parts, r.part(start, from+m[0]))
		separators = append(separators, r.part(from+m[0], from+m[1]))
		start = from + m[1]
	}
	return append(parts, r.part(start, to)), separators
}

// round reads "30 cm top 24 cm base 28 cm deep", in any order, or a top alone.
func (r reader) round(from int) (Vessel, *units.Fault) {
	parts, words := r.split(from, len(r.text), roundWord)
	rest := parts[len(parts)-1]
	if rest.text != "" {
		return Vessel{}, units.Faultf(rest.start, "no-role", shapes["round"], "%q is neither top, base nor deep", rest.text)
	}
	at := map[string]int{} // word to index in parts
	for i, w := range words {
		name := strings.ToLower(w.text)
		if _, twice := at[name]; twice {
			return Vessel{}, units.Faultf(w.start, "twice", "keep one of the two", "%q stands here twice", w.text)
		}
		at[name] = i
	}
	return r.roundOf(parts[:len(words)], at)
}

func (r reader) roundOf(parts []part, at map[string]int) (Vessel, *units.Fault) {
	cm, unit, f := r.lengths(parts, shapes["round"])
	if f != nil {
		return Vessel{}, f
	}
	top, hasTop := at["top"]
	base, hasBase := at["base"]
	deep, hasDeep := at["deep"]
	switch {
	case !hasTop:
		return Vessel{}, r.lacks("no-top", "the diameter of the top", shapes["round"])
	case !hasBase && !hasDeep:
		v := round(cm[top], cm[top]*AssumedBase, cm[top]*AssumedDepth)
		v.Assumed, v.RoughGuess, v.unit = true, true, unit
		return v, nil
	case !hasDeep:
		return Vessel{}, r.lacks("no-depth", "the depth", "add the inside depth, such as \"28 cm deep\"")
	case !hasBase:
		return Vessel{}, r.lacks("no-base", "the diameter of the base", "add it, such as \"24 cm base\"; with straight sides it is that of the top")
	}
	v := round(cm[top], cm[base], cm[deep])
	v.unit = unit
	return v, v.checkBase(parts[base])
}

// lacks returns the fault of a missing measure, at the end of the text.
func (r reader) lacks(code, what, hint string) *units.Fault {
	end := utf8.RuneCountInString(strings.TrimRight(r.text, " \t"))
	return units.Faultf(end, code, hint, "%s is missing", what)
}

// checkBase refuses a base wider than the top: the two were swapped.
func (v Vessel) checkBase(base part) *units.Fault {
	if v.BaseLength <= v.TopLength && v.BaseWidth <= v.TopWidth {
		return nil
	}
	return units.Faultf(base.start, "wide-base", "write the top first; for a container that narrows upward measure the litres and write them",
		"the base of %q is wider than the top", base.text)
}

// box reads "60 x 20 x 18 cm", and "base 54 x 14 cm" after it.
func (r reader) box(from int, shape Shape, word string) (Vessel, *units.Fault) {
	end := len(r.text)
	base := baseWord.FindStringIndex(r.text[from:])
	if base != nil {
		end = from + base[0]
	}
	cm, unit, f := r.group(from, end, 3, shapes[word])
	if f != nil {
		return Vessel{}, f
	}
	v := Vessel{Shape: shape, TopLength: cm[0], TopWidth: cm[1], BaseLength: cm[0], BaseWidth: cm[1], Depth: cm[2], unit: unit}
	if base == nil {
		return v, nil
	}
	from += base[1]
	cm, _, f = r.group(from, len(r.text), 2, `write length x width of the base, such as "base 54 x 14 cm"`)
	if f != nil {
		return Vessel{}, f
	}
	v.BaseLength, v.BaseWidth = cm[0], cm[1]
	return v, v.checkBase(r.part(from, len(r.text)))
}

// group reads so many measures with signs of times between them.
func (r reader) group(from, to, want int, hint string) ([]float64, lengthUnit, *units.Fault) {
	parts, _ := r.split(from, to, timesSign)
	last := parts[len(parts)-1]
	end := last.start + utf8.RuneCountInString(last.text)
	switch {
	case len(parts) > want:
		return nil, lengthUnit{}, units.Faultf(parts[want].start, "too-many-measures", hint, "%d measures stand here and %d are needed", len(parts), want)
	case len(parts) == 2 && want == 3:
		return nil, lengthUnit{}, units.Faultf(end, "no-depth", hint, "the depth is missing")
	case len(parts) < want:
		return nil, lengthUnit{}, units.Faultf(end, "too-few-measures", hint, "%d measures are needed", want)
	}
	return r.lengths(parts, hint)
}
