package reference

import (
	"math"
	"slices"

	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/units"
)

// A Nutrient is one of the six that the reference tells of, by the key of the fact files.
type Nutrient string

// The nutrients: nitrogen, calcium, magnesium and sulfur as elements, phosphate and potash as the oxides
// that labels state.
const (
	N    Nutrient = "n"
	P2O5 Nutrient = "p2o5"
	K2O  Nutrient = "k2o"
	Ca   Nutrient = "ca"
	Mg   Nutrient = "mg"
	S    Nutrient = "s"
)

// Nutrients lists the nutrients in the order of a label.
var Nutrients = []Nutrient{N, P2O5, K2O, Ca, Mg, S}

// Name returns the nutrient's everyday name, such as "phosphate".
func (n Nutrient) Name() string {
	names := []string{"nitrogen", "phosphate", "potash", "calcium", "magnesium", "sulfur"}
	return pick(n, names)
}

// Symbol returns the nutrient's symbol, such as "P2O5".
func (n Nutrient) Symbol() string {
	return pick(n, []string{"N", "P2O5", "K2O", "Ca", "Mg", "S"})
}

func pick(n Nutrient, words []string) string {
	if i := slices.Index(Nutrients, n); i >= 0 {
		return words[i]
	}
	return string(n)
}

// A Figure is one number of the reference as far as it is known, with what it is measured in, what it is a
// part of, and where it comes from. The zero Figure is not known, which is never zero.
type Figure struct {
	Known              bool
	Low, Typical, High float64
	RangeOnly          bool // only low and high are published: Typical is the middle
	OpenLow, OpenHigh  bool // the source gives no bound on this side: Low (High) then repeats the other
	Unit               string
	Basis              string // what the figure is a share of, or is measured on
	Source             []string
	Confidence         sources.Confidence
	Note               string
}

// Share returns a figure in percent, or a plain ratio, as a share. Asking it of an unknown figure or of
// another unit is a mistake of the caller and panics: not known is never zero.
func (f Figure) Share() units.SomeShare {
	f.must("%", "1")
	scale := 1.0
	if f.Unit == "%" {
		scale = 1.0 / 100
	}
	return units.SomeShare{Low: f.Low * scale, Typical: f.Typical * scale, High: f.High * scale}
}

// Density returns a figure in g/mL as a density; it panics like Share.
func (f Figure) Density() units.SomeDensity {
	f.must("g/mL")
	return units.SomeDensity{Low: f.Low, Typical: f.Typical, High: f.High}
}

func (f Figure) must(allowed ...string) {
	if !f.Known {
		panic("reference: a figure that is not known was asked for its value")
	}
	if !slices.Contains(allowed, f.Unit) {
		panic("reference: a figure in " + f.Unit + " was taken for one in " + allowed[0])
	}
}

// lacks returns the first of range, unit, basis, source and confidence that a known figure does not have,
// or "".
func (f Figure) lacks() string {
	switch {
	case !f.Known:
		return ""
	case math.IsNaN(f.Low+f.Typical+f.High) || math.IsInf(f.Low+f.Typical+f.High, 0),
		f.Low > f.Typical, f.Typical > f.High:
		return "range"
	case f.Unit == "":
		return "unit"
	case f.Basis == "":
		return "basis"
	case len(f.Source) == 0 || slices.Contains(f.Source, ""):
		return "source"
	case !slices.Contains(confidences, f.Confidence):
		return "confidence"
	}
	return ""
}

// confidences lists the words that the fact files may use, strongest first.
var confidences = []sources.Confidence{
	sources.Checked, sources.SecondHand, sources.Derived, sources.CommonPractice, sources.FromMemory,
}

// times returns the product of two known figures of positive factors, in the unit of the first. Its
// confidence is "derived": it was computed with the help of a second value.
func (f Figure) times(share Figure, basis string) Figure {
	if !f.Known || !share.Known {
		return Figure{Unit: f.Unit, Basis: basis, Note: f.Note}
	}
	by := share.Share()
	f.Low, f.Typical, f.High = f.Low*by.Low, f.Typical*by.Typical, f.High*by.High
	f.Source = union(f.Source, share.Source)
	f.Confidence, f.Basis = sources.Derived, basis
	return f
}

func union(lists ...[]string) []string {
	out := slices.Concat(lists...)
	slices.Sort(out)
	return slices.Clip(slices.Compact(out)) // shared: who adds to it gets a list of their own
}
