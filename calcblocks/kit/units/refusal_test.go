package units

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// readers are the ways in which the kinds read a value; the amount in a metric handbook is there for the
// words that depend on the set.
var readers = map[string]func(string) error{
	"amount":        func(s string) error { _, err := Parser{US}.Amount(s); return err },
	"metric amount": func(s string) error { _, err := Parser{Metric}.Amount(s); return err },
	"quantity":      func(s string) error { _, err := Parser{US}.Quantity(s); return err },
	"volume":        func(s string) error { _, err := Parser{US}.Volume(s); return err },
	"mass":          func(s string) error { _, err := Parser{US}.Mass(s); return err },
	"length":        func(s string) error { _, err := Parser{US}.Length(s); return err },
	"share":         func(s string) error { _, err := Parser{US}.Share(s); return err },
	"rate":          func(s string) error { _, err := Parser{US}.Rate(s); return err },
	"money":         func(s string) error { _, err := ReadMoney(s); return err },
	"date":          func(s string) error { _, err := ReadDate(s); return err },
	"when":          func(s string) error { _, err := ReadWhen(s); return err },
	"month-day":     func(s string) error { _, err := ReadMonthDay(s); return err },
}

// refusals is every way of writing a value that is refused, with the character at fault and what the
// grower is told. Hints stand one after the other, joined by "; ".
var refusals = []struct {
	reader, text  string
	offset        int
	code          string
	message, hint string
}{
	{"amount", `1-1/2 cup`, 0, "dash-in-number", `"1-1/2" is not a number`, `write "1 1/2"`},
	{"amount", `1 - 1/2 cup`, 0, "dash-in-number", `"1 - 1/2" is not a number`, `write "1 1/2"`},
	{"amount", `1-2 cups`, 0, "dash-for-range", `"1-2" is not a number`, `write a range with "to": "1 to 2 cups"`},
	{"amount", `1–2 cups`, 0, "dash-for-range", `"1–2" is not a number`, `write a range with "to": "1 to 2 cups"`},
	{"amount", `1/4-1/2 cup`, 0, "dash-for-range", `"1/4-1/2" is not a number`, `write a range with "to": "1/4 to 1/2 cup"`},
	{"amount", `½-1 cup`, 0, "dash-for-range", `"½-1" is not a number`, `write a range with "to": "½ to 1 cup"`},
	{"amount", `1 1/2-2 cups`, 5, "dash-for-range", `"-2 cups" is not a unit`, `write a range with "to", such as "1/2 to 1 cup"`},
	{"amount", `1½-2 cups`, 2, "dash-for-range", `"-2 cups" is not a unit`, `write a range with "to", such as "1/2 to 1 cup"`},
	{"amount", `2 tbsp - 1/4 cup`, 2, "dash-for-range", `"tbsp - 1/4 cup" is not a unit`, `write a range with "to", such as "1/2 to 1 cup"`},
	{"amount", `1.5-2 L`, 0, "dash-for-range", `"1.5-2" is not a number`, `write a range with "to": "1.5 to 2 L"`},
	{"amount", `1,5 L`, 0, "decimal-comma", `"1,5" has a decimal comma`, `write a decimal point: "1.5"`},
	{"amount", `1,5 to 2 L`, 0, "decimal-comma", `"1,5" has a decimal comma`, `write a decimal point: "1.5"`},
	{"amount", `1 to 2,5 L`, 5, "decimal-comma", `"2,5" has a decimal comma`, `write a decimal point: "2.5"`},
	{"amount", `1,000 mL`, 0, "decimal-comma", `"1,000" has a comma`, `write "1000" or, if the comma was a decimal point, "1"`},
	{"amount", `1,500 mL`, 0, "decimal-comma", `"1,500" has a comma`, `write "1500" or, if the comma was a decimal point, "1.5"`},
	{"amount", `1,234,567 mL`, 0, "decimal-comma", `"1,234,567" has commas`, `write "1234567"`},
	{"amount", `1.000 L`, 0, "ambiguous-thousands", `"1.000" could be 1 or 1 thousand`, `write "1" or "1000"`},
	{"amount", `10.000 L`, 0, "ambiguous-thousands", `"10.000" could be 10 or 10 thousand`, `write "10" or "10000"`},
	{"amount", `1.000.000 L`, 0, "two-points", `"1.000.000" has more than one point`, `write at most one decimal point and no thousands separator`},
	{"amount", `1.2.3 L`, 0, "two-points", `"1.2.3" has more than one point`, `write at most one decimal point and no thousands separator`},
	{"amount", `0.000 L`, 0, "zero-amount", `"0.000 L" is zero`, `write an amount above zero, or leave the line out`},
	{"amount", `1e3 mL`, 0, "exponent", `"1e3" is written with an exponent`, `write the number out, such as "1000"`},
	{"amount", `1.5E-3 L`, 0, "exponent", `"1.5E-3" is written with an exponent`, `write the number out, such as "1000"`},
	{"amount", `1 to 123456789012345678901 L`, 5, "long-number", `"12345678901234567890…" has more than 20 digits in a row`, `write at most 20 digits`},
	{"amount", `0.123456789012345678901 L`, 2, "long-number", `"12345678901234567890…" has more than 20 digits in a row`, `write at most 20 digits`},
	{"amount", `“1 cup”`, 0, "curly-quote", `"“1 cup”" starts with a curly quote`, `take the quotes away, or write straight ones`},
	{"quantity", `1 to 2 kg`, 2, "no-range-here", `a range is not taken here`, `write one value, such as "1/2 cup" or "35 g"`},
	{"money", `1234567890123`, 0, "bad-money", `"1234567890123" is not an amount of money`, `write a plain amount such as "4.50", in the handbook's currency`},
	{"amount", `-5 g`, 0, "negative-amount", `"-5 g" is negative`, `write an amount above zero`},
	{"amount", `−½ cup`, 0, "negative-amount", `"−½ cup" is negative`, `write an amount above zero`},
	{"amount", `0 g`, 0, "zero-amount", `"0 g" is zero`, `write an amount above zero, or leave the line out`},
	{"amount", `0/4 cup`, 0, "zero-amount", `"0/4 cup" is zero`, `write an amount above zero, or leave the line out`},
	{"amount", `1/0 cup`, 0, "zero-divisor", `"1/0" divides by zero`, `write a fraction such as "1/2"`},
	{"amount", `1 1/0 cup`, 2, "zero-divisor", `"1/0" divides by zero`, `write a fraction such as "1/2"`},
	{"amount", `1 / 2 cup`, 0, "odd-fraction", `"1 / 2" is not a fraction`, `write "1/2"`},
	{"amount", `1⁄2 cup`, 0, "odd-fraction", `"1⁄2" is not a fraction`, `write "1/2"`},
	{"amount", `1/2/3 cup`, 3, "two-quantities", `"/3 cup" holds a second number`, `write one number and one unit, such as "1/2 cup" or "35 g"`},
	{"amount", `1.5 1/2 cup`, 4, "two-quantities", `"1/2 cup" holds a second number`, `write one number and one unit, such as "1/2 cup" or "35 g"`},
	{"amount", `.5 cup`, 0, "leading-point", `".5" starts with a point`, `write "0.5"`},
	{"amount", `5. g`, 0, "trailing-point", `"5." ends with a point`, `write "5"`},
	{"amount", `1_000 mL`, 0, "underscore", `"1_000" has an underscore`, `write "1000"`},
	{"amount", `012 g`, 0, "leading-zero", `"012" starts with a zero`, `write "12"`},
	{"amount", `00.5 g`, 0, "leading-zero", `"00.5" starts with a zero`, `write "0.5"`},
	{"amount", `1:2 cups`, 0, "ratio", `"1:2" is a ratio, not a number`, `write a number and a unit`},
	{"amount", `20`, 0, "no-unit", `"20" has no unit`, `write a unit, such as "1/2 cup" or "35 g"`},
	{"amount", `1 1/2`, 0, "no-unit", `"1 1/2" has no unit`, `write a unit, such as "1/2 cup" or "35 g"`},
	{"amount", `1 to 2`, 5, "no-unit", `"2" has no unit`, `write a unit, such as "1/2 cup" or "35 g"`},
	{"amount", `1 cup to 2`, 9, "no-unit", `"2" has no unit`, `write a unit, such as "1/2 cup" or "35 g"`},
	{"amount", `1/2 to`, 4, "half-range", `the range has no upper end`, `write both ends, such as "1/2 to 1 cup"`},
	{"amount", `to 2 cups`, 0, "no-number", `"to 2 cups" does not start with a number`, `write a number and a unit, such as "1/2 cup" or "35 g"`},
	{"amount", `1 to 2 to 3 cups`, 7, "no-range-here", `a range is not taken here`, `write one value, such as "1/2 cup" or "35 g"`},
	{"amount", `2 to 1 cup`, 0, "range-order", `"2 to 1 cup" does not rise`, `write the lower end first`},
	{"amount", `1 cup to 1 cup`, 0, "range-order", `"1 cup to 1 cup" does not rise`, `write the lower end first`},
	{"amount", `1/4 cup to 2 tbsp`, 0, "range-order", `"1/4 cup to 2 tbsp" does not rise`, `write the lower end first`},
	{"amount", `1 cup to 50 g`, 0, "mixed-range", `"1 cup to 50 g" runs from a volume to a mass`, `write both ends as volumes or both as masses`},
	{"amount", `50 g to 1 cup`, 0, "mixed-range", `"50 g to 1 cup" runs from a mass to a volume`, `write both ends as volumes or both as masses`},
	{"amount", `cup`, 0, "no-number", `"cup" does not start with a number`, `write a number and a unit, such as "1/2 cup" or "35 g"`},
	{"amount", `one cup`, 0, "no-number", `"one cup" does not start with a number`, `write a number and a unit, such as "1/2 cup" or "35 g"`},
	{"amount", `a`, 0, "no-number", `"a" does not start with a number`, `write a number and a unit, such as "1/2 cup" or "35 g"`},
	{"amount", `about 20 L`, 0, "no-number", `"about 20 L" does not start with a number`, `write a number and a unit, such as "1/2 cup" or "35 g"`},
	{"amount", `+5 g`, 0, "no-number", `"+5 g" does not start with a number`, `write a number and a unit, such as "1/2 cup" or "35 g"`},
	{"amount", ``, 0, "no-number", `"" does not start with a number`, `write a number and a unit, such as "1/2 cup" or "35 g"`},
	{"amount", `1 cup + 2 tbsp`, 2, "two-quantities", `"cup + 2 tbsp" is a sum`, `write the sum as one number and one unit`},
	{"amount", `1 lb 4 oz`, 2, "two-quantities", `"lb 4 oz" holds a second number`, `write one number and one unit, such as "1/2 cup" or "35 g"`},
	{"amount", `2 ½ cup ½`, 4, "two-quantities", `"cup ½" holds a second number`, `write one number and one unit, such as "1/2 cup" or "35 g"`},
	{"amount", `1 cop`, 2, "unknown-unit", `unknown unit "cop"`, `did you mean "cup"?`},
	{"amount", `2 tbps`, 2, "unknown-unit", `unknown unit "tbps"`, `did you mean "tbsp"?`},
	{"amount", `2 tbs`, 2, "unknown-unit", `"tbs" is not a unit`, `write "tbsp"`},
	{"amount", `3 teaspoon full`, 2, "unknown-unit", `unknown unit "teaspoon full"`, `write a value such as "1/2 cup" or "35 g"`},
	{"amount", `1 us cop`, 2, "unknown-unit", `unknown unit "us cop"`, `did you mean "us cup"?`},
	{"amount", `1 c`, 2, "unknown-unit", `"c" is not a unit`, `write "cup"`},
	{"amount", `2 t`, 2, "bare-t", `"t" could be a tablespoon, a teaspoon or a tonne`, `write "tbsp", "tsp" or "tonne"`},
	{"amount", `2 T`, 2, "bare-t", `"T" could be a tablespoon, a teaspoon or a tonne`, `write "tbsp", "tsp" or "tonne"`},
	{"amount", `1 ton`, 2, "bare-ton", `"ton" could be a short ton or a tonne`, `write "short ton" (907 kg) or "tonne" (1000 kg)`},
	{"amount", `3 gramms`, 2, "unknown-unit", `unknown unit "gramms"`, `did you mean "grams"?`},
	{"amount", `5 ML`, 2, "unknown-unit", `"ML" could be a megalitre`, `write "mL"`},
	{"amount", `20 lt`, 3, "unknown-unit", `unknown unit "lt"`, `did you mean "L"?`},
	{"amount", `20 L.`, 3, "unknown-unit", `unknown unit "L."`, `did you mean "L"?`},
	{"amount", `16 qt`, 3, "bare-quart", `"qt" could be a dry or a liquid quart`, `write "dry qt" (1.101 L, as on a bag of mix) or "liquid qt" (0.946 L)`},
	{"amount", `2 quarts`, 2, "bare-quart", `"quarts" could be a dry or a liquid quart`, `write "dry qt" (1.101 L, as on a bag of mix) or "liquid qt" (0.946 L)`},
	{"amount", `1 us qt`, 2, "bare-quart", `"us qt" could be a dry or a liquid quart`, `write "dry qt" (1.101 L, as on a bag of mix) or "liquid qt" (0.946 L)`},
	{"amount", `2 pints`, 2, "bare-pint", `"pints" could be a dry, a liquid or a UK pint`, `write "dry pt" (0.551 L), "liquid pt" (0.473 L) or "uk pt" (0.568 L)`},
	{"amount", `1 imperial gal`, 2, "unknown-unit", `unknown unit "imperial gal"`, `write "uk gal"`},
	{"amount", `1 metric fl oz`, 2, "no-fluid-ounce", `the metric set has no fluid ounce`, `write "us fl oz", "uk fl oz" or millilitres`},
	{"metric amount", `2 fl oz`, 2, "no-fluid-ounce", `the metric set has no fluid ounce`, `write "us fl oz", "uk fl oz" or millilitres`},
	{"amount", `a pinch`, 2, "unknown-unit", `unknown unit "pinch"`, `write a value such as "1/2 cup" or "35 g"`},
	{"amount", `5 cm`, 2, "wrong-dimension", `"cm" is a length; a volume or a mass is needed`, `write "1/2 cup" or "35 g"`},
	{"amount", `25 %`, 3, "wrong-dimension", `"%" is a share; a volume or a mass is needed`, `write "1/2 cup" or "35 g"`},
	{"amount", `3 g/L`, 2, "no-dose-here", `"g/L" is a dose; a volume or a mass is needed`, `write "1/2 cup" or "35 g"`},
	{"amount", `0,250 L`, 0, "decimal-comma", `"0,250" has a decimal comma`, `write a decimal point: "0.250"`},
	{"amount", `2 gms`, 2, "unknown-unit", `"gms" is not a unit`, `write "g"`},
	{"amount", `30 ltr`, 3, "unknown-unit", `"ltr" is not a unit`, `write "L"`},
	{"length", `5 cn`, 2, "unknown-unit", `unknown unit "cn"`, `write a value such as "5 cm"`},
	{"rate", `1 qt/gal`, 2, "bare-quart", `"qt" could be a dry or a liquid quart`, `write "dry qt" (1.101 L, as on a bag of mix) or "liquid qt" (0.946 L)`},
	{"rate", `3 g/gal/L`, 4, "no-dose-here", `"gal/L" is a dose; a volume is needed`, `write a dose per volume of mix, such as "3 g/L"`},
	{"month-day", `31-04`, 0, "bad-month-day", `there is no day "31-04"`, `check the month and the day; the month stands first`},
	{"mass", `2 kilo gram`, 2, "unknown-unit", `unknown unit "kilo gram"`, `did you mean "kilogram"?`},
	{"amount", `2 kpa`, 2, "wrong-dimension", `"kpa" is a pressure; a volume or a mass is needed`, `write "1/2 cup" or "35 g"`},
	{"volume", `4 oz`, 2, "wrong-dimension", `"oz" is a mass; a volume is needed`, `write "fl oz" for fluid ounces`},
	{"volume", `4 kg`, 2, "wrong-dimension", `"kg" is a mass; a volume is needed`, `write "20 L"`},
	{"volume", `10 to 20 L`, 3, "no-range-here", `a range is not taken here`, `write one value, such as "20 L"`},
	{"volume", `20`, 0, "no-unit", `"20" has no unit`, `write a unit, such as "20 L"`},
	{"mass", `1 cup`, 2, "wrong-dimension", `"cup" is a volume; a mass is needed`, `write "35 g"`},
	{"mass", `20 kilogramm`, 3, "unknown-unit", `unknown unit "kilogramm"`, `did you mean "kilogram"?`},
	{"length", `5`, 0, "no-unit", `"5" has no unit`, `write a unit, such as "5 cm"`},
	{"length", `12"`, 2, "unknown-unit", `'"' is not a unit`, `write "in" for inches`},
	{"length", `6'`, 1, "unknown-unit", `"'" is not a unit`, `write "ft" for feet`},
	{"length", `5 g`, 2, "wrong-dimension", `"g" is a mass; a length is needed`, `write "5 cm"`},
	{"length", `5 cmm`, 2, "unknown-unit", `unknown unit "cmm"`, `did you mean "cm"?`},
	{"length", `30 cm top`, 3, "unknown-unit", `unknown unit "cm top"`, `write a value such as "5 cm"`},
	{"length", `3 cups`, 2, "wrong-dimension", `"cups" is a volume; a length is needed`, `write "5 cm"`},
	{"share", `0.25`, 0, "no-unit", `"0.25" has no unit`, `write a unit, such as "25 %"`},
	{"share", `1/4`, 0, "no-unit", `"1/4" has no unit`, `write a unit, such as "25 %"`},
	{"share", `25`, 0, "no-unit", `"25" has no unit`, `write a unit, such as "25 %"`},
	{"share", `150 %`, 0, "share-over-100", `"150 %" is more than the whole`, `write a share from above 0 to 100 %`},
	{"share", `0 %`, 0, "zero-amount", `"0 %" is zero`, `write an amount above zero, or leave the line out`},
	{"share", `25 g`, 3, "wrong-dimension", `"g" is a mass; a share is needed`, `write "25 %"`},
	{"share", `25 % to 30 %`, 3, "no-range-here", `a range is not taken here`, `write one value, such as "25 %"`},
	{"rate", `3 g`, 0, "no-rate", `"3 g" is not a dose`, `write a dose per volume of mix, such as "3 g/L"`},
	{"rate", `3`, 0, "no-rate", `"3" is not a dose`, `write a dose per volume of mix, such as "3 g/L"`},
	{"rate", `3 g/`, 4, "no-unit", `a unit is missing`, `write a dose per volume of mix, such as "3 g/L"`},
	{"rate", `3 g/kg`, 4, "wrong-dimension", `"kg" is a mass; a volume is needed`, `write a dose per volume of mix, such as "3 g/L"`},
	{"rate", `3 cm/L`, 2, "wrong-dimension", `"cm" is a length; a volume or a mass is needed`, `write a dose per volume of mix, such as "3 g/L"`},
	{"rate", `1 to 2 g/L`, 2, "no-range-here", `a range is not taken here`, `write a dose per volume of mix, such as "3 g/L"`},
	{"rate", `3 g per`, 0, "no-rate", `"3 g per" is not a dose`, `write a dose per volume of mix, such as "3 g/L"`},
	{"rate", `3 gg/L`, 2, "unknown-unit", `unknown unit "gg"`, `did you mean "g"?`},
	{"rate", `3 g/Ll`, 4, "unknown-unit", `unknown unit "Ll"`, `did you mean "L"?`},
	{"rate", `g/L`, 0, "no-number", `"g/L" does not start with a number`, `write a number and a unit, such as "3 g/L"`},
	{"money", `$4.50`, 0, "bad-money", `"$4.50" is not an amount of money`, `write "4.50" alone; the currency stands in handbook.yaml`},
	{"money", `€5`, 0, "bad-money", `"€5" is not an amount of money`, `write "5" alone; the currency stands in handbook.yaml`},
	{"money", `4.50 USD`, 0, "bad-money", `"4.50 USD" is not an amount of money`, `write "4.50" alone; the currency stands in handbook.yaml`},
	{"money", `$-3`, 0, "bad-money", `"$-3" is not an amount of money`, `write a plain amount such as "4.50", in the handbook's currency`},
	{"money", `4,50`, 0, "bad-money", `"4,50" is not an amount of money`, `write a decimal point and no thousands separator, such as "4.50"`},
	{"money", `1,200.00`, 0, "bad-money", `"1,200.00" is not an amount of money`, `write a decimal point and no thousands separator, such as "4.50"`},
	{"money", `-3`, 0, "bad-money", `"-3" is not an amount of money`, `write a plain amount such as "4.50", in the handbook's currency`},
	{"money", `4.505`, 0, "bad-money", `"4.505" is not an amount of money`, `write a plain amount such as "4.50", in the handbook's currency`},
	{"money", `free`, 0, "bad-money", `"free" is not an amount of money`, `write a plain amount such as "4.50", in the handbook's currency`},
	{"money", ``, 0, "bad-money", `"" is not an amount of money`, `write a plain amount such as "4.50", in the handbook's currency`},
	{"date", `2027-4-12`, 0, "bad-date", `"2027-4-12" is not a date`, `write year, month and day: "2027-04-12"`},
	{"date", `2027/4/12`, 0, "bad-date", `"2027/4/12" is not a date`, `write year, month and day: "2027-04-12"`},
	{"date", `05-16-2027`, 0, "bad-date", `"05-16-2027" is not a date`, `write year, month and day: "2027-05-16"`},
	{"date", `16.5.2027`, 0, "bad-date", `"16.5.2027" is not a date`, `write year, month and day: "2027-05-16"`},
	{"date", `5.5.2027`, 0, "bad-date", `"5.5.2027" is not a date`, `write year, month and day: "2027-05-05"`},
	{"date", `05/06/2027`, 0, "bad-date", `"05/06/2027" is not a date`, `write year, month and day, such as "2027-04-12"`},
	{"date", `31-31-2027`, 0, "bad-date", `"31-31-2027" is not a date`, `write year, month and day, such as "2027-04-12"`},
	{"date", `2027-02-30`, 0, "bad-date", `there is no day "2027-02-30"`, `check the month and the day`},
	{"date", `12.04.2027`, 0, "bad-date", `"12.04.2027" is not a date`, `write year, month and day, such as "2027-04-12"`},
	{"date", `04/12/2027`, 0, "bad-date", `"04/12/2027" is not a date`, `write year, month and day, such as "2027-04-12"`},
	{"date", `spring`, 0, "bad-date", `"spring" is not a date`, `write year, month and day, such as "2027-04-12"`},
	{"when", `frost + 2 weeks`, 0, "bad-date", `"frost + 2 weeks" is not a date`, `write year, month and day, such as "2027-04-12"; or a time of the season, such as "spring frost + 2 weeks" or "2 weeks before planting"`},
	{"when", `two weeks before planting`, 0, "bad-date", `"two weeks before planting" is not a date`, `write year, month and day, such as "2027-04-12"; or a time of the season, such as "spring frost + 2 weeks" or "2 weeks before planting"`},
	{"when", `spring frost + 2 months`, 0, "bad-date", `"spring frost + 2 months" is not a date`, `write year, month and day, such as "2027-04-12"; or a time of the season, such as "spring frost + 2 weeks" or "2 weeks before planting"`},
	{"when", `2027-13-01`, 0, "bad-date", `there is no day "2027-13-01"`, `check the month and the day`},
	{"when", `2 weeks planting`, 0, "bad-date", `"2 weeks planting" is not a date`, `write year, month and day, such as "2027-04-12"; or a time of the season, such as "spring frost + 2 weeks" or "2 weeks before planting"`},
	{"month-day", `4-20`, 0, "bad-month-day", `"4-20" is not a month and a day`, `write month and day in quotes, such as "04-20"`},
	{"month-day", `04-31`, 0, "bad-month-day", `there is no day "04-31"`, `check the month and the day; the month stands first`},
	{"month-day", `20 April`, 0, "bad-month-day", `"20 April" is not a month and a day`, `write month and day in quotes, such as "04-20"`},
	{"month-day", `2027-04-20`, 0, "bad-month-day", `"2027-04-20" is not a month and a day`, `write month and day in quotes, such as "04-20"`},
}

func TestRefusals(t *testing.T) {
	for _, c := range refusals {
		var fault *Fault
		require.ErrorAs(t, readers[c.reader](c.text), &fault, "%s %q", c.reader, c.text)
		assert.Equal(t, c.code, fault.Code, "%s %q", c.reader, c.text)
		assert.Equal(t, c.message, fault.Message, "%s %q", c.reader, c.text)
		assert.Equal(t, c.hint, strings.Join(fault.Hints, "; "), "%s %q", c.reader, c.text)
		assert.Equal(t, c.offset, fault.Offset, "%s %q", c.reader, c.text)
	}
}

// Every refusal keeps the rules for messages: lower case or a quoted value first, no final stop, a hint.
func TestRefusalsReadWell(t *testing.T) {
	for _, c := range refusals {
		first := []rune(c.message)[0]
		assert.Equal(t, strings.ToLower(string(first)), string(first), c.message)
		assert.False(t, strings.HasSuffix(c.message, "."), c.message)
		assert.NotEmpty(t, c.hint, c.message)
		assert.LessOrEqual(t, c.offset, len([]rune(c.text)), c.text)
	}
}

func TestFaultMoves(t *testing.T) {
	f := Faultf(2, "code", "", "%d", 3)
	assert.Equal(t, 5, f.At(3).Offset)
	assert.Empty(t, f.Hints)
	assert.EqualError(t, f, "3")
	assert.Nil(t, (*Fault)(nil).At(1))
}
