// Package extract reads tests of a mix: by which method water was taken from it, what class a value has by
// that method's own published bands, and what an EC says of salt and yield (nutrition.md, sections 2 and 8).
package extract

import (
	"slices"
	"strconv"

	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
)

// A Method is how an extract was made.
type Method string

// The methods, by the words that the fact files use.
const (
	SME         Method = "sme" // saturated media extract
	PourThrough Method = "pour-through"
	OneToTwo    Method = "1:2" // by volume
	OneToFive   Method = "1:5" // by volume
)

// Methods lists the methods.
var Methods = []Method{SME, PourThrough, OneToTwo, OneToFive}

// Name returns the method in words.
func (m Method) Name() string {
	names := []string{"saturated media extract", "pour-through", "1:2 by volume", "1:5 by volume"}
	return names[slices.Index(Methods, m)]
}

// points returns the break points of a method that the table holds, in rising order.
func (m Method) points(lib *reference.Library) []float64 {
	var out []float64
	for i := 0; ; i++ {
		f, ok := lib.At("judging", "ec_conversion", "break_points", string(m), strconv.Itoa(i))
		if !ok {
			return out
		}
		out = append(out, f.Typical)
	}
}

// Extreme says whether an EC lies above the last break point of its method: beyond it the table ends and
// nothing is converted. The 1:5 extract has no column of its own and is judged by its estimate in SME.
func (m Method) Extreme(lib *reference.Library, ec float64) bool {
	if m == OneToFive {
		return ec*toSME(lib).Typical > last(SME.points(lib))
	}
	return ec > last(m.points(lib))
}

func last(xs []float64) float64 { return xs[len(xs)-1] }

// Convert returns the EC, mS/cm, that another method would be expected to show. Typical is by linear
// interpolation between break points of equal rank (judging.yaml, ec_conversion, derived from a table of the
// University of Massachusetts); from and to 1:5 it is the estimate of 7. Low and high are as far as the other
// roads differ: the mid-range ratios, and pure dilution for 1:2 and 1:5. ok is false above the last break
// point.
func Convert(lib *reference.Library, from, to Method, ec float64) (out units.SomeEC, ok bool) {
	switch {
	case from == to:
		return units.SomeEC{Low: ec, Typical: ec, High: ec}, true
	case from.Extreme(lib, ec):
		return out, false
	case from == SME:
		return fromSME(lib, to, units.SomeEC{Low: ec, Typical: ec, High: ec}), true
	}
	sme := intoSME(lib, from, ec)
	if to == SME {
		return sme, true
	}
	return fromSME(lib, to, sme), true
}

// toSME returns how many times the EC of a 1:5 extract that of SME is: the estimate, the dilution model and
// the cautious figure.
func toSME(lib *reference.Library) units.SomeEC {
	at := func(key string) float64 { return lib.Number("judging", "ec_conversion", "sme_per_1to5_by_volume", key) }
	return units.SomeEC{Low: at("dilution_model"), Typical: at("estimate"), High: at("cautious")}
}

// roads returns the ratios of SME to the EC by a method of the table.
func roads(lib *reference.Library, m Method) []float64 {
	quick := func(key string) float64 { return lib.Number("judging", "ec_conversion", "quick_ratios", key) }
	if m == OneToTwo {
		return []float64{quick("sme_per_1to2"), quick("sme_per_1to2_by_dilution")}
	}
	return []float64{1 / quick("pour-through_per_sme")}
}

func intoSME(lib *reference.Library, from Method, ec float64) units.SomeEC {
	if from == OneToFive {
		return units.SomeEC(toSME(lib).Scale(ec))
	}
	x := between(from.points(lib), SME.points(lib), ec)
	out := units.SomeEC{Low: x, Typical: x, High: x}
	for _, ratio := range roads(lib, from) {
		out.Low, out.High = min(out.Low, ec*ratio), max(out.High, ec*ratio)
	}
	return out
}

func fromSME(lib *reference.Library, to Method, sme units.SomeEC) units.SomeEC {
	if to == OneToFive {
		per := toSME(lib)
		return units.SomeEC{Low: sme.Low / per.High, Typical: sme.Typical / per.Typical, High: sme.High / per.Low}
	}
	points, own := SME.points(lib), to.points(lib)
	at := func(ec float64) float64 { return between(points, own, min(ec, last(points))) }
	out := units.SomeEC{Low: at(sme.Low), Typical: at(sme.Typical), High: at(sme.High)}
	for _, ratio := range roads(lib, to) {
		out.Low, out.High = min(out.Low, sme.Low/ratio), max(out.High, sme.High/ratio)
	}
	return out
}

// between interpolates linearly from one rising scale to another of equal rank; x lies within the first.
func between(from, to []float64, x float64) float64 {
	i := 1
	for i < len(from)-1 && x > from[i] {
		i++
	}
	return to[i-1] + (x-from[i-1])/(from[i]-from[i-1])*(to[i]-to[i-1])
}

// DissolvedSalts returns mg/L of salts in a solution of an EC in mS/cm, by the usual factor of 640 ppm for each
// mS/cm (University of Tennessee, glossary); some meters use 500 or 700.
func DissolvedSalts(ec, ppmPerMS float64) float64 { return ec * ppmPerMS }
