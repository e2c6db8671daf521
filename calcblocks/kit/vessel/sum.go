package vessel

import (
	"fmt"
	"strconv"
)

// VolumeSum writes VolumeAt out for a reader to do again: the formula (volumes.md, section 2) with the measures up to a
// height, in cm, for a volume in mL.
func (v Vessel) VolumeSum(height float64) string {
	h := v.Depth * v.up(height)
	switch {
	case v.BaseLength == v.TopLength && v.BaseWidth == v.TopWidth:
		return v.rounded() + digits(h) + " x " + v.areaSum(h)
	case v.Shape == Round:
		low, high := digits(v.LengthAt(0)), digits(v.LengthAt(h))
		return fmt.Sprintf("pi / 12 x %s x (%s x %s + %s x %s + %s x %s)", digits(h), low, low, low, high, high, high)
	}
	return v.rounded() + fmt.Sprintf("%s / 6 x (%s + 4 x %s + %s)", digits(h), v.areaSum(0), v.areaSum(h/2), v.areaSum(h))
}

// rounded is what an oval is of the box around it.
func (v Vessel) rounded() string {
	if v.Shape == Trough {
		return ""
	}
	return "pi / 4 x "
}

func (v Vessel) areaSum(height float64) string {
	return digits(v.LengthAt(height)) + " x " + digits(v.WidthAt(height))
}

// AcrossSum writes how far it is across at any height above the base, cm.
func (v Vessel) AcrossSum() string {
	length := v.sideSum(v.BaseLength, v.TopLength)
	if v.Shape == Round {
		return length
	}
	return length + " by " + v.sideSum(v.BaseWidth, v.TopWidth)
}

func (v Vessel) sideSum(base, top float64) string {
	if base == top {
		return digits(base)
	}
	return fmt.Sprintf("%s + (%s - %s) x height / %s", digits(base), digits(top), digits(base), digits(v.Depth))
}

// digits prints a length to five digits: one more than a working shows of a volume.
func digits(x float64) string { return strconv.FormatFloat(x, 'g', 5, 64) }
