package layouts

import (
	"fmt"
	"math"

	"trug/calcblocks/kit/view"
)

// The largest pot of a row is at most this wide and high, in em of the row.
const (
	rowWidth  = 6.0
	rowHeight = 5.6
)

// rimTilt is how far a rim is seen from above, as a share of its half width: enough to read as a pot.
const rimTilt = 0.12

// potsModel is a row of containers.
type potsModel struct {
	here
	Title string
	Pick  bool // the pots choose a size on this page
	Items []potModel
}

// potModel is one container of a row.
type potModel struct {
	view.Pot
	Link    string // "#for-20-l", "../pots/blue-tub/index.html" or ""
	Label   string // what a screen reader says of the drawing
	Drawing *potDrawing
	Cut     *cutDrawing // the drawing with dimensions, in its place
}

// potDrawing is a container from the front. Its unit is a millimetre of the container.
type potDrawing struct {
	Box           string // left, top, width, height
	Width, Height string // on the page, in em
	Outline, Mix  string // paths
	Rim, Surface  ellipse
}

// ellipse is a level circle seen from the front and a little from above.
type ellipse struct{ X, Y, RX, RY string }

func (p printer) pots(title string, pots []view.Pot) potsModel {
	m := potsModel{here: p.here("pots"), Title: title}
	scale := rowScale(pots)
	for _, pot := range pots {
		item := potModel{Pot: pot, Label: potLabel(pot)}
		switch {
		case pot.Anchor != "":
			item.Link, m.Pick = "#"+p.anchor(pot.Anchor), true
		case pot.Href != "":
			item.Link = p.Root + pot.Href
		}
		if pot.Dimensions {
			item.Cut = p.measured(pot)
		} else {
			item.Drawing = drawPot(pot, scale)
		}
		m.Items = append(m.Items, item)
	}
	return m
}

func potLabel(pot view.Pot) string {
	label := pot.Description
	if label == "" {
		label = "pot, " + digits(pot.TopCM) + " cm across the top, " + digits(pot.HeightCM) + " cm deep"
	}
	if pot.Assumed {
		label += ", shape assumed"
	}
	return label
}

// drawable says whether the lengths make a shape.
func drawable(pot view.Pot) bool {
	for _, x := range []float64{pot.TopCM, pot.BaseCM, pot.HeightCM} {
		if !(x > 0) || math.IsInf(x, 0) {
			return false
		}
	}
	return true
}

// rowScale returns the em per centimetre that all pots of a row share.
func rowScale(pots []view.Pot) float64 {
	scale := math.Inf(1)
	for _, pot := range pots {
		if drawable(pot) {
			scale = min(scale, rowWidth/max(pot.TopCM, pot.BaseCM), rowHeight/pot.HeightCM)
		}
	}
	return scale
}

// drawPot draws a container, or returns nil when its lengths make no shape.
func drawPot(pot view.Pot, scale float64) *potDrawing {
	if !drawable(pot) {
		return nil
	}
	const edge = 8 // room for the stroke
	top, base, height := pot.TopCM*10, pot.BaseCM*10, pot.HeightCM*10
	width := max(top, base) + 2*edge
	middle, rim := width/2, top/2*rimTilt
	floor := edge + rim + height
	tall := floor + base/2*rimTilt + edge
	d := &potDrawing{
		Box:    "0 0 " + spot(width) + " " + spot(tall),
		Width:  fmt.Sprintf("%.2fem", width/10*scale),
		Height: fmt.Sprintf("%.2fem", tall/10*scale),
		Rim:    level(middle, edge+rim, top/2),
	}
	d.Outline = cup(middle, edge+rim, top/2, floor, base/2)
	if fill := min(pot.FillCM*10, height); fill > 0 {
		half := (base + (top-base)*fill/height) / 2
		d.Mix = cup(middle, floor-fill, half, floor, base/2)
		d.Surface = level(middle, floor-fill, half)
	}
	return d
}

func level(x, y, half float64) ellipse {
	return ellipse{spot(x), spot(y), spot(half), spot(half * rimTilt)}
}

// cup is the path of a wall, a floor that sags as a circle seen from above does, and the other wall.
func cup(middle, top, topHalf, floor, floorHalf float64) string {
	return fmt.Sprintf("M%s %sL%s %sA%s %s 0 0 0 %s %sL%s %s",
		spot(middle-topHalf), spot(top), spot(middle-floorHalf), spot(floor),
		spot(floorHalf), spot(floorHalf*rimTilt), spot(middle+floorHalf), spot(floor),
		spot(middle+topHalf), spot(top))
}
