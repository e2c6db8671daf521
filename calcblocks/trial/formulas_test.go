package trial_test

import (
	"fmt"
	"math"
	"math/big"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"trug/calcblocks/kit/data"
	"trug/calcblocks/trial"
)

// TestCriticalTOfClosedForm: Student's distribution of 1, 2 and 4 degrees of freedom has a quantile that can be written out
// (Shaw, 2006): with a = level, tan(pi a / 2); a x sqrt(2 / (1 - a^2)); 2 sqrt(cos(acos(s)/3)/s - 1), s = sqrt(1 - a^2).
func TestCriticalTOfClosedForm(t *testing.T) {
	for _, a := range []float64{0.1, 0.5, 0.8, 0.9, 0.95, 0.99, 0.999, 0.99999} {
		s := math.Sqrt((1 - a) * (1 + a))
		for df, want := range map[float64]float64{
			1: math.Tan(math.Pi * a / 2), 2: a * math.Sqrt(2/((1-a)*(1+a))), 4: 2 * math.Sqrt(math.Cos(math.Acos(s)/3)/s-1),
		} {
			assert.InEpsilon(t, want, trial.CriticalT(df, a), 2e-11, "%v df at %v", df, a)
		}
	}
}

func rats(values ...int64) []*big.Rat {
	var out []*big.Rat
	for _, v := range values {
		out = append(out, big.NewRat(v, 1))
	}
	return out
}

// TestPooledByHand: 1, 2, 3 and 4, 5, 6 have an SD of 1 each and together: t = -3 / sqrt(2/3) of 4 degrees of freedom, of
// which the lower tail is 1/2 + 3/8 x (u - u^3/12 x ...) in the closed form of 4: with c = t / sqrt(t^2 + 4), 1/2 + 3/4 c -
// c^3/4.
func TestPooledByHand(t *testing.T) {
	c, sd := trial.Pooled(trial.Summarise(rats(1, 2, 3)), trial.Summarise(rats(4, 5, 6)), 0.95)
	assert.InEpsilon(t, 1, sd, 1e-12)
	assert.True(t, c.Known)
	assert.InEpsilon(t, -3/math.Sqrt(2.0/3), c.T, 1e-12)
	u := c.T / math.Sqrt(c.T*c.T+4)
	assert.InEpsilon(t, 2*(0.5+0.75*u-u*u*u/4), c.P, 1e-9)
	alike, none := trial.Pooled(trial.Summarise(rats(7, 7, 7)), trial.Summarise(rats(4, 4, 4)), 0.95)
	assert.Zero(t, none)
	assert.Equal(t, trial.Comparison{Difference: 3}, alike, "where nothing varies only the difference counts")
}

// TestOneValueDoesNotVary: the SD of a sample needs two.
func TestOneValueDoesNotVary(t *testing.T) {
	assert.Equal(t, trial.Sample{N: 1, Mean: 7}, trial.Summarise(rats(7)))
	assert.Equal(t, trial.Sample{}, trial.Summarise(nil))
}

// TestHowClearlyShown: two groups of five that vary by -2, -1, 0, 1, 2 have an SE of 1 and 8 degrees of freedom, so that the
// interval reaches 2.306 (printed tables of t) either way. The near end is a tenth of the difference at 2.306 / 0.9 = 2.562.
// In other units it is the same.
func TestHowClearlyShown(t *testing.T) {
	for difference, verdict := range map[float64]string{2.30: "not shown", 2.31: "only just shown", 2.55: "only just shown", 2.57: "shown", -2.30: "not shown", -2.55: "only just shown", -2.57: "shown"} {
		for _, unit := range []float64{1, 0.01} {
			group := func(mean float64) string {
				text := ""
				for i := range 5 {
					text += fmt.Sprintf(", %.4f", (mean+float64(i)-2)*unit)
				}
				return "[" + text[2:] + "]"
			}
			out := compute("groups:\n  a: " + group(10+difference) + "\n  b: " + group(10) + "\n")
			assert.Equal(t, data.Text(verdict), out.Find("verdict"), "%v x %v", difference, unit)
		}
	}
}

// TestAFaultStopsTheTrial: whatever else is known.
func TestAFaultStopsTheTrial(t *testing.T) {
	for _, body := range []string{
		"groups:\n  a: [1, 2, 3]\n", "groups:\n  a: [1, 2, 3]\n  b: [1, 2, much]\n", "groups:\n  a: [1, 2, 3]\n  b: [1, 2]\npaired: yes\n",
		"groups:\n  a: [1, 2, 3]\n  b: [1, 2, 4]\ncrop: dragon\n", "groups:\n  a: {pots: [nowhere]}\n  b: {pots: [elsewhere]}\nmeasure: yield\n",
	} {
		out := compute(body)
		assert.NotEmpty(t, out.Faults, body)
		assert.Nil(t, out.Data, body)
	}
}

// TestThreeDigits: of whole grams in the thousands a difference and its interval are printed to three digits like the
// rest; means stay whole, so that close ones are told apart. 51234, 71234 and 61234 less 68765, 88765, 78765 is -17531,
// the SD of both is 10000, and with t of 4 degrees 2.776445 x 10000 x sqrt(2/3) = 22669.5 the interval runs from -40200.5 to 5138.5.
func TestThreeDigits(t *testing.T) {
	out := compute("unit: g\ngroups:\n  one: [51234, 71234, 61234]\n  two: [68765, 88765, 78765]\n")
	assert.Empty(t, out.Printed())
	text := strings.Join(strings.Fields(out.Text()), " ")
	assert.Contains(t, text, "one averages 17500 g less than two")
	assert.Contains(t, text, "from 40200 g less to 5140 g more")
	assert.Contains(t, text, "mean 61234")
}
