// Package vessel holds containers: their inside shape, what they hold up to any height, and the words
// in which an author gives them. Lengths are cm and volumes mL, as floats: round shapes rest on pi.
package vessel

import "math"

// A Shape is the outline of a vessel seen from above.
type Shape int

// The shapes. A round vessel is an oval of equal length and width.
const (
	Round Shape = iota
	Trough
	Oval
)

// A Vessel is a container by inside measures in cm, or by a volume whose shape is not known. Sides are
// straight from base to top. The zero value holds nothing.
type Vessel struct {
	Shape                 Shape
	TopLength, TopWidth   float64    // cm, at the rim; both are the diameter of a round vessel
	BaseLength, BaseWidth float64    // cm
	Depth                 float64    // cm, base to rim
	Fill                  float64    // cm, base to fill line; 0 means up to the rim
	Measured              [2]float64 // mL, low and high, when the volume is known and the shape is not
	Assumed               bool       // the shape, or part of it, is the assumed one
	RoughGuess            bool       // a top diameter alone was given: measure to be sure
	Class                 string     // the nursery class, such as "5"
	Text                  string     // as the author wrote it

	unit lengthUnit // the author's, for messages
}

// AreaAt returns the inside area in cm2 at a height above the base: pi/4 x length x width of a round or
// oval vessel, length x width of a trough (plane geometry).
func (v Vessel) AreaAt(height float64) float64 {
	area := v.LengthAt(height) * v.WidthAt(height)
	if v.Shape == Trough {
		return area
	}
	return math.Pi / 4 * area
}

// LengthAt returns the inside length in cm at a height above the base; the sides run straight, so it is
// base + (top - base) x height / depth.
func (v Vessel) LengthAt(height float64) float64 {
	return v.BaseLength + (v.TopLength-v.BaseLength)*v.up(height)
}

// WidthAt returns the inside width in cm at a height above the base.
func (v Vessel) WidthAt(height float64) float64 {
	return v.BaseWidth + (v.TopWidth-v.BaseWidth)*v.up(height)
}

// up returns a height as a share of the depth, from 0 to 1.
func (v Vessel) up(height float64) float64 {
	if v.Depth <= 0 {
		return 0
	}
	return min(max(height/v.Depth, 0), 1)
}

// VolumeAt returns the mL from the base up to a height; a height above the rim counts as the rim.
func (v Vessel) VolumeAt(height float64) float64 { return v.Between(0, height) }

// Between returns the mL between two heights above the base, the lower one first. The area is a square
// function of the height, so (b - a)/6 x (area at a + 4 x area midway + area at b) is exact: it is the
// prismatoid, and for round vessels the frustum pi/12 x h x (D2 + D d + d2) (solid geometry).
func (v Vessel) Between(a, b float64) float64 {
	a, b = v.Depth*v.up(a), v.Depth*v.up(b)
	return (b - a) / 6 * (v.AreaAt(a) + 4*v.AreaAt((a+b)/2) + v.AreaAt(b))
}

// HeightOf returns the height in cm up to which a volume in mL fills the vessel: the inverse of VolumeAt
// by bisection, to the last bit of the height. A volume above the brim gives the depth.
func (v Vessel) HeightOf(volume float64) float64 {
	low, high := 0.0, v.Depth
	if volume >= v.VolumeAt(high) {
		return high
	}
	for {
		middle := (low + high) / 2
		if middle <= low || middle >= high {
			return middle
		}
		if v.VolumeAt(middle) < volume {
			low = middle
		} else {
			high = middle
		}
	}
}

// Front returns the silhouette seen from the long side: width at the top and at the base, height, and
// height of the fill line, all in cm.
func (v Vessel) Front() (top, base, height, fill float64) {
	return v.TopLength, v.BaseLength, v.Depth, v.FillHeight()
}
