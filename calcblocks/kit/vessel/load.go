package vessel

// LoadCaution is the load in kPa above which a page cautions: 40 lb/ft2, the least that a common model code
// asks of new decks and balconies (International Code Council, IRC R301.5). Below it nothing is proven: the
// figure is for new work and is shared with people, snow and furniture.
const LoadCaution = 40 * 0.45359237 * gravity / 0.09290304 / 1000

// gravity is the standard acceleration of free fall in m/s2 (NIST SP 811, appendix B).
const gravity = 9.80665

// FootprintLoad returns the load in kPa that a mix of a depth in cm and a density in kg/L puts on the ground
// under its own footprint: depth x density x standard gravity. Walls, plant and saucer come on top.
func FootprintLoad(depth, density float64) float64 { return depth / 100 * density * gravity }

// WateredDensity returns the kg/L of a mix at container capacity from its dry bulk density in kg/L and
// the share of its volume that is then water, of 1 kg/L.
func WateredDensity(dry, water float64) float64 { return dry + water }

// Pressure returns the load in kPa of a mass in kg that stands on an area in m2: mass x standard gravity
// / area.
func Pressure(kg, m2 float64) float64 { return kg * gravity / m2 / 1000 }
