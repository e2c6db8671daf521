package reference

import (
	"regexp"
	"slices"
	"strings"

	"trug/calcblocks/kit/sources"
)

// credits tells what stands behind each figure of a crop: by field, then by the part of the field that the
// evidence names; "" = the whole field.
type credits map[string]map[string][]Evidence

// fieldParts lists the fields of a crop that evidence may name and the words for their parts.
var fieldParts = map[string][]string{
	"uptake":               {"n", "p2o5", "k2o", "ca", "mg", "s"},
	"mix_l_per_plant":      {"min", "good"},
	"soil_temp_c":          {"min", "optimum", "low", "high"},
	"yield_kg_per_plant":   nil,
	"depth_cm":             nil,
	"salinity":             nil,
	"ph":                   nil,
	"transplant_age_weeks": nil,
	"sow_indoors_weeks":    nil,
	"sow_outdoors_weeks":   nil,
	"transplant_weeks":     nil,
	"days_to_maturity":     nil,
}

var (
	remark    = regexp.MustCompile(`\([^)]*\)`)
	plainWord = regexp.MustCompile(`[A-Za-z0-9_]+`)
)

// credit reads the evidence of a crop. A line names the figures that it covers before any remark in
// brackets: "soil_temp_c min, optimum", "mix_l_per_plant, depth_cm", "uptake n; offtake p2o5, k2o". A line
// that starts with anything else ("root length plus 5 cm") stands behind no figure.
func credit(all []Evidence) credits {
	out := credits{}
	for _, e := range all {
		for field, parts := range covered(e.Figure) {
			if out[field] == nil {
				out[field] = map[string][]Evidence{}
			}
			for _, part := range parts {
				out[field][part] = append(out[field][part], e)
			}
		}
	}
	return out
}

// covered returns the fields that a line of evidence names, with their parts; {""} is the whole field.
func covered(line string) map[string][]string {
	out := map[string][]string{}
	field := ""
	for i, word := range plainWord.FindAllString(remark.ReplaceAllString(line, " "), -1) {
		switch named := fieldNamed(word, i == 0); {
		case named != "":
			field = named
			out[field] = append(out[field], nil...)
		case field == "" && i == 0:
			return nil
		}
		if part := partNamed(field, word); part != "" {
			out[field] = append(out[field], part)
		}
	}
	if strings.Contains(line, "ratio") {
		return nil // the proportion of nutrients to one another, not a figure of its own
	}
	for field, parts := range out {
		if len(parts) == 0 {
			out[field] = []string{""}
		}
	}
	return out
}

// fieldNamed returns the field that a word names. What the harvest takes off stands for uptake where no
// better is known, and a line may start with the nutrient itself.
func fieldNamed(word string, first bool) string {
	switch _, ok := fieldParts[word]; {
	case ok:
		return word
	case word == "offtake", first && slices.Contains(fieldParts["uptake"], word):
		return "uptake"
	}
	return ""
}

func partNamed(field, word string) string {
	if !slices.Contains(fieldParts[field], word) {
		return ""
	}
	if field == "soil_temp_c" && (word == "low" || word == "high") {
		return "range"
	}
	return word
}

// sign gives a figure the sources of the evidence for it, and the confidence of the weakest.
func (c credits) sign(f Figure, field, part string) Figure {
	if !f.Known {
		return f
	}
	evidence := slices.Concat(c[field][""])
	if part != "" {
		evidence = append(evidence, c[field][part]...)
	}
	for _, e := range evidence {
		f.Source = union(f.Source, []string{e.Source})
		f = f.asWeakAs(e.Confidence)
	}
	return f
}

// asWeakAs returns a known figure with the weaker of its own confidence and another.
func (f Figure) asWeakAs(c sources.Confidence) Figure {
	if f.Known && slices.Index(confidences, c) > slices.Index(confidences, f.Confidence) {
		f.Confidence = c
	}
	return f
}
