package builder

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/season"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

// unitOf maps whole words of a key to the unit that they name. The first row that fits counts.
var unitOf = []struct{ words, unit string }{
	{"mg_per_l", "mg per litre"},
	{"g_per_l", "g per litre"},
	{"g_per_litre", "g per litre"},
	{"grams_per_litre", "g per litre"},
	{"lb_per_sq_ft", "lb per square foot"},
	{"oz_per_100_us_gal", "oz in 100 US gallons"},
	{"ms_cm", "mS/cm"},
	{"percent", "%"},
	{"grams", "g"},
	{"g", "g"},
	{"kg", "kg"},
	{"kpa", "kPa"},
	{"litres", "L"},
	{"ml", "mL"},
	{"weeks", "weeks"},
	{"days", "days"},
	{"wait_years", "years"},
}

// ofBlock stands for the unit that the block itself tells, such as a trial's.
const ofBlock = "*"

// unitOfKey holds whole keys that name their unit by themselves; "" is a plain number.
var unitOfKey = map[string]string{
	"week": "", "ec": "mS/cm", "ec_range": "mS/cm", "offset_c": "°C", "bands": "g",
	"mean": ofBlock, "sd": ofBlock, "standard_error": ofBlock, "difference": ofBlock, "interval": ofBlock, "values": ofBlock,
}

// unitFor is the unit of the numbers at a whole path: what the last of its keys says that says anything. Money is in
// the handbook's currency.
func unitFor(path string, root data.Object, currency string) string {
	names := strings.Split(path, "/")
	for i := len(names) - 1; i >= 0; i-- {
		if hasWords(names[i], "cost") || hasWords(names[i], "price") {
			return currency
		}
		if unit, ok := unitOfKey[names[i]]; ok {
			return strings.ReplaceAll(unit, ofBlock, text(root.Get("unit")))
		}
		for _, u := range unitOf {
			if hasWords(names[i], u.words) {
				return u.unit
			}
		}
	}
	return ""
}

func hasWords(key, words string) bool { return strings.Contains("_"+key+"_", "_"+words+"_") }

// figureText prints a figure as it stands in prose: a number or a span with its unit, money, a measure in the
// handbook's own spoons, a day or a window of days, a text, a list of such; "" for what is not one figure.
func figureText(v data.Value, unit string, hb garden.Handbook) string {
	if low, high, ok := ends(v); ok {
		return withUnit(low, high, unit, hb.Currency)
	}
	switch v := v.(type) {
	case data.Text:
		return dayText(string(v))
	case data.Flag:
		return map[data.Flag]string{true: "yes", false: "no"}[v]
	case data.List:
		return listText(v, unit, hb)
	case data.Object:
		if from, to, ok := windowOf(v); ok {
			return season.Words(from, to, true)
		}
		return measureText(measured(v, hb.Main))
	}
	return ""
}

func listText(l data.List, unit string, hb garden.Handbook) string {
	var out []string
	for _, v := range l {
		t := figureText(v, unit, hb)
		if t == "" {
			return ""
		}
		out = append(out, t)
	}
	return view.And(out)
}

// ends returns the two ends of a number or of a low and high.
func ends(v data.Value) (low, high float64, ok bool) {
	switch v := v.(type) {
	case data.Number:
		return float64(v), float64(v), true
	case data.Object:
		a, okLow := v.Get("low").(data.Number)
		b, okHigh := v.Get("high").(data.Number)
		return min(float64(a), float64(b)), max(float64(a), float64(b)), okLow && okHigh
	}
	return 0, 0, false
}

// withUnit prints a number or a span with its unit.
func withUnit(low, high float64, unit, currency string) string {
	span, b := digits(low, unit, currency), digits(high, unit, currency)
	if span != b {
		span += " to " + b
	}
	if one := strings.TrimSuffix(unit, "s"); span == "1" && (unit == "weeks" || unit == "days" || unit == "years") {
		unit = one
	}
	return strings.TrimSuffix(span+" "+unit, " ")
}

// digits prints a number for people: money to the cent, a whole number without a unit, such as a year or a
// count, in full.
func digits(x float64, unit, currency string) string {
	switch {
	case unit == currency:
		return strconv.FormatFloat(x, 'f', 2, 64)
	case unit == "" && x == float64(int64(x)):
		return strconv.FormatInt(int64(x), 10)
	}
	return view.Number(x)
}

// dayText writes a date, or a month and a day, as people do, and leaves any other text as it is.
func dayText(s string) string {
	if day, err := units.ReadDate(s); err == nil {
		return season.Words(day, day, true)
	}
	if d, err := units.ReadMonthDay(s); err == nil {
		day := time.Date(2000, d.Month, d.Day, 0, 0, 0, 0, time.UTC)
		return season.Words(day, day, false)
	}
	return s
}

// windowOf returns the days from and to of a job.
func windowOf(o data.Object) (from, to time.Time, ok bool) {
	from, errFrom := units.ReadDate(text(o.Get("from")))
	to, errTo := units.ReadDate(text(o.Get("to")))
	return from, to, errFrom == nil && errTo == nil
}

// measured returns the two ends of a measure, in the main set where there are several; "" without one.
func measured(o data.Object, main units.Set) (low, high string) {
	if own, ok := o.Get(string(main)).(data.Object); ok {
		o = own
	}
	return text(o.Get("low")), text(o.Get("high"))
}

// measureText writes both ends of a measure as measure.Range does: "1/4 to 1/2 cup".
func measureText(low, high string) string {
	if low == high || low == "" || high == "" {
		return low
	}
	count, unit, _ := cutLast(low)
	if _, unitHigh, ok := cutLast(high); ok && unit == unitHigh && !strings.Contains(low+high, "+") {
		low = count
	}
	return fmt.Sprintf("%s to %s", low, high)
}

// cutLast cuts a text at its last space.
func cutLast(s string) (before, after string, ok bool) {
	i := strings.LastIndex(s, " ")
	if i < 0 {
		return s, "", false
	}
	return s[:i], s[i+1:], true
}
