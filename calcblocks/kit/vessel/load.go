package vessel

// LoadCaution is the load in kPa above which a page cautions: 40 lb/ft2, the least that a common model code
// asks of new decks and balconies (International Code Council, IRC R301.5). Below it nothing is proven: the
// figure is for new work and is shared with people, snow and furniture.
const LoadCaution = 40 * 0.45359237 * gravity / 0.09290304 / 1000

// gravity is the standard acceleration of free fall in m/s2 (NIST SP 811, appendix B).
const gravity = 9.80665

// Pressure returns the load in kPa of a mass in kg that stands on an area in m2: mass x standard gravity
// / area.
func Pressure(kg, m2 float64) float64 { return kg * gravity / m2 / 1000 }
