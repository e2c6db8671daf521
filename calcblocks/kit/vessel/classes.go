package vessel

// A class is a container size of the nursery trade: a range of cubic inches, never so many gallons.
type class struct {
	name      string
	low, high float64 // cubic inches
}

// classes are the container classes of the American Standard for Nursery Stock, ANSI Z60.1: 1 to 5 by
// way of a quoting work, 7 to 25 from memory. A volume between two classes belongs to none.
var classes = []class{
	{"1", 152, 251},
	{"2", 320, 474},
	{"3", 628, 742},
	{"5", 785, 1242},
	{"7", 1337, 1790},
	{"10", 2080, 2646},
	{"15", 2768, 3696},
	{"20", 4520, 5152},
	{"25", 5775, 6861},
}

// cubicInch is one cubic inch in mL: 2.54 cm cubed (NIST SP 811, appendix B).
const cubicInch = 16.387064

// ClassNames returns the names of the nursery classes, smallest first.
func ClassNames() []string {
	out := make([]string, len(classes))
	for i, c := range classes {
		out[i] = c.name
	}
	return out
}

// OfClass returns a container of a nursery class, such as "5": its volume is the range of the class and
// its shape is assumed midway. It returns false for a class that does not exist.
func OfClass(name string) (Vessel, bool) {
	for _, c := range classes {
		if c.name == name {
			low, high := c.low*cubicInch, c.high*cubicInch
			v := assumed((low + high) / 2)
			v.Measured, v.Class = [2]float64{low, high}, name
			return v, true
		}
	}
	return Vessel{}, false
}
