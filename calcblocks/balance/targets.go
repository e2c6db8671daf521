package balance

import (
	"regexp"
	"slices"
	"strings"

	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
)

func (b *balance) parseTargets(n *form.Node) {
	if n == nil {
		return
	}
	names := make([]string, len(bandNutrients))
	for i, nutrient := range bandNutrients {
		names[i] = string(nutrient)
	}
	fields := n.Fields(names...)
	for _, nutrient := range bandNutrients {
		v := fields.Get(string(nutrient))
		if v == nil {
			continue
		}
		t, ok := form.Value(v, func(text string) (target, error) { return readTarget(v.Values(), text) })
		if ok {
			t.nutrient, t.at = nutrient, v
			b.targets = append(b.targets, t)
		}
	}
	if n.IsMapping() && len(n.Mapping().Entries) == 0 {
		n.Fault("no-targets", "write a band for each nutrient, such as \"n: 8 to 12 g\"", "the targets are empty")
	}
}

var slash = regexp.MustCompile(`\pL\s*/|\s[pP][eE][rR]\s`)

// perVolume says whether a text is a dose per volume rather than an amount: a slash behind a unit, and not that of a
// fraction.
func perVolume(text string) bool { return slash.MatchString(text) }

const targetSample = `"8 to 12 g" or "0.4 to 0.6 g/L"`

// readTarget reads "8 to 12 g", "10 g" or the same per volume of mix. Its error is a *units.Fault.
func readTarget(p units.Parser, text string) (target, error) {
	if perVolume(text) {
		return readDoses(p, text)
	}
	a, err := p.Amount(text)
	if err != nil {
		return target{}, err
	}
	if !a.Low.Weighed {
		return target{}, units.Faultf(0, "wrong-dimension", "write grams of the nutrient, such as "+targetSample, "%q is a volume; a mass of the nutrient is needed", strings.TrimSpace(text))
	}
	return target{low: a.Low.Mass.Float(), high: a.High.Mass.Float()}, nil
}

var toWord = regexp.MustCompile(`\s+[tT][oO]\s+`)

// readDoses reads a dose or two; the unit of the first may be left out.
func readDoses(p units.Parser, text string) (target, error) {
	ends := toWord.Split(text, 2)
	high, err := gramsPerLitre(p, ends[len(ends)-1])
	if err != nil {
		return target{}, shifted(err, len([]rune(text))-len([]rune(ends[len(ends)-1])))
	}
	low := high
	if len(ends) == 2 {
		first := ends[0]
		if !perVolume(first) {
			first += " " + strings.TrimLeft(ends[1], " 0123456789./½⅓⅔¼¾⅛⅜⅝⅞")
		}
		if low, err = gramsPerLitre(p, first); err != nil {
			return target{}, err
		}
		if low >= high {
			return target{}, units.Faultf(0, "range-order", "write the lower end first", "%q does not rise", strings.TrimSpace(text))
		}
	}
	return target{low: low, high: high, perLitre: true}, nil
}

// gramsPerLitre reads a dose of a nutrient.
func gramsPerLitre(p units.Parser, text string) (float64, error) {
	r, err := p.Rate(text)
	if err != nil {
		return 0, err
	}
	if !r.Weighed {
		return 0, units.Faultf(0, "wrong-dimension", "write grams of the nutrient, such as "+targetSample, "%q is a volume; a mass of the nutrient is needed", strings.TrimSpace(text))
	}
	return r.Mass.Float(), nil
}

func shifted(err error, by int) error {
	if f, ok := err.(*units.Fault); ok {
		return f.At(by)
	}
	return err
}

// A band is what is wanted of one nutrient, in g that count.
type band struct {
	nutrient          reference.Nutrient
	low, middle, high float64
	from              string // "the crop's need", "your target", "the crop's class"
	why               string // where there is no band
	known             bool
	uptake            string // how the need was found, for the working
	sources           []string
}

func (b *balance) target(n reference.Nutrient) (target, bool) {
	i := slices.IndexFunc(b.targets, func(t target) bool { return t.nutrient == n })
	if i < 0 {
		return target{}, false
	}
	return b.targets[i], true
}
