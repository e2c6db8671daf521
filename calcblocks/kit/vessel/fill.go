package vessel

import (
	"math"

	"trug/calcblocks/kit/units"
)

// The assumed shape: a round pot whose base is 0.75 and whose depth is 0.92 of its top diameter. It lies
// between the printed lists of pots by diameter, which differ two to three times (judgement).
const (
	AssumedBase  = 0.75
	AssumedDepth = 0.92
)

// Of returns a vessel that holds a volume up to its fill line, drawn with the assumed shape.
func Of(volume units.Volume) Vessel {
	v := assumed(volume.Float())
	v.Measured = [2]float64{volume.Float(), volume.Float()}
	return v
}

// assumed returns the assumed shape with a volume in mL.
func assumed(ml float64) Vessel {
	unit := round(1, AssumedBase, AssumedDepth).VolumeAt(AssumedDepth)
	d := math.Cbrt(ml / unit)
	v := round(d, d*AssumedBase, d*AssumedDepth)
	v.Assumed = true
	return v
}

func round(top, base, depth float64) Vessel {
	return Vessel{Shape: Round, TopLength: top, TopWidth: top, BaseLength: base, BaseWidth: base, Depth: depth}
}

// FillHeight returns the height of the fill line above the base in cm.
func (v Vessel) FillHeight() float64 {
	if v.Fill == 0 {
		return v.Depth
	}
	return v.Fill
}

// FillVolume returns the mL up to the fill line. The two ends differ only for a nursery class.
func (v Vessel) FillVolume() (low, high float64) {
	if v.isMeasured() {
		return v.Measured[0], v.Measured[1]
	}
	x := v.VolumeAt(v.FillHeight())
	return x, x
}

// BrimVolume returns the mL up to the rim. A measured volume counts as brimful.
func (v Vessel) BrimVolume() (low, high float64) {
	if v.isMeasured() {
		return v.Measured[0], v.Measured[1]
	}
	x := v.VolumeAt(v.Depth)
	return x, x
}

func (v Vessel) isMeasured() bool { return v.Measured[1] > 0 }

// Ends returns the vessel at the low and at the high end of its volume, each with a shape that holds just
// that. Both are the vessel itself unless it is a nursery class.
func (v Vessel) Ends() (low, high Vessel) {
	if v.Measured[0] == v.Measured[1] {
		return v, v
	}
	return v.at(v.Measured[0]), v.at(v.Measured[1])
}

// at returns the vessel as one of a single volume in mL.
func (v Vessel) at(ml float64) Vessel {
	out := assumed(ml)
	out.Measured, out.Class, out.Text = [2]float64{ml, ml}, v.Class, v.Text
	return out
}

// LevelFall returns the mL between the fill line and a level t cm below it: not a share of the volume,
// unless the sides are straight.
func (v Vessel) LevelFall(t float64) float64 {
	return v.Between(v.FillHeight()-t, v.FillHeight())
}

// WithFill returns the vessel filled up to a height in cm above the base. It refuses a height that is not
// above zero or that is above the rim, and a vessel whose depth nobody measured.
func (v Vessel) WithFill(height float64) (Vessel, error) {
	switch {
	case v.Assumed:
		return v, units.Faultf(0, "fill-without-shape", "write the shape, such as \"round 30 cm top 24 cm base 28 cm deep\", or leave the fill out",
			"a fill needs the inside measures of the container, and only %s is known", v.known())
	case !(height > 0):
		return v, units.Faultf(0, "zero-amount", "write the height from the base to the fill line", "a fill must be above the base")
	case height > v.Depth*(1+1e-9):
		return v, units.Faultf(0, "fill-above-rim", "measure from the inside of the base to the fill line",
			"a fill of %s is above the rim, which is %s above the base", v.length(height), v.length(v.Depth))
	}
	v.Fill = min(height, v.Depth)
	return v, nil
}
