package extract

import (
	"strings"

	"trug/calcblocks/kit/reference"
)

// A Class is where a value lies among published bands that hold for one method.
type Class struct {
	Name    string // "very high"
	Band    reference.Figure
	Lab     string // the key of the laboratory whose bands these are
	Printed string // the class as the fact file names it
}

// ClassOf returns the class of an EC by a method's own bands: five classes of the saturated media extract
// (University of Missouri), six of the others (University of Massachusetts). An edge belongs to the class
// above it. ok is false for 1:5, for which no bands are held.
func ClassOf(lib *reference.Library, m Method, ec float64) (Class, bool) {
	switch m {
	case SME:
		return SMEClass(lib, "ec", ec)
	case OneToFive:
		return Class{}, false
	}
	for _, name := range []string{"very-low", "low", "normal", "high", "very-high", "extreme"} {
		if f, ok := lib.At("judging", "ec_classes_by_method", "rows", name, string(m)); ok && inBand(f, ec) {
			return class(name, f), true
		}
	}
	return Class{}, false
}

// SMEClass returns the class of an element, mg/L, or of "ec", mS/cm, in the saturated media extract of a
// soilless mix by the five classes. ok is false for what has none.
func SMEClass(lib *reference.Library, element string, x float64) (Class, bool) {
	for _, name := range []string{"low", "acceptable", "optimum", "high", "very-high"} {
		if f, ok := lib.At("judging", "sme_classes", element, name); ok && inBand(f, x) {
			return class(name, f), true
		}
	}
	return Class{}, false
}

// Normal returns where an element, mg/L, lies against the one normal band of the saturated media extract
// (University of Massachusetts): low, normal or high. Both ends of the band are normal.
func Normal(lib *reference.Library, element string, x float64) (Class, bool) {
	f, ok := lib.At("judging", "sme_normal_bands", element)
	switch {
	case !ok:
		return Class{}, false
	case x < f.Low:
		return class("low", f), true
	case x > f.High:
		return class("high", f), true
	}
	return class("normal", f), true
}

func class(name string, f reference.Figure) Class {
	return Class{Name: strings.ReplaceAll(name, "-", " "), Band: f, Lab: f.Source[0], Printed: name}
}

// inBand says whether x lies in a band, low end included, high end not.
func inBand(f reference.Figure, x float64) bool { return x >= f.Low && (f.OpenHigh || x < f.High) }
