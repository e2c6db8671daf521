package units

import (
	"fmt"
	"math/big"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// outside names units as GNU units calls them, with the base unit of this package. Its UK, Australian and
// metric spoons differ from the kitchen sets here, so only those that agree by definition are compared.
var outside = []struct{ word, theirs, base string }{
	{"us cup", "uscup", "mL"},
	{"us tbsp", "ustablespoon", "mL"},
	{"us tsp", "usteaspoon", "mL"},
	{"us fl oz", "usfluidounce", "mL"},
	{"uk fl oz", "brfluidounce", "mL"},
	{"metric cup", "metriccup", "mL"},
	{"australian tbsp", "australiatablespoon", "mL"},
	{"australian tsp", "australiateaspoon", "mL"},
	{"L", "litre", "mL"},
	{"dL", "dL", "mL"},
	{"cL", "cL", "mL"},
	{"m3", "m^3", "mL"},
	{"cu in", "inch^3", "mL"},
	{"cu ft", "foot^3", "mL"},
	{"cu yd", "yard^3", "mL"},
	{"gal", "usgallon", "mL"},
	{"liquid qt", "usquart", "mL"},
	{"liquid pt", "uspint", "mL"},
	{"bushel", "usbushel", "mL"},
	{"peck", "uspeck", "mL"},
	{"dry gal", "drygallon", "mL"},
	{"dry qt", "dryquart", "mL"},
	{"dry pt", "drypint", "mL"},
	{"uk gal", "brgallon", "mL"},
	{"uk qt", "brquart", "mL"},
	{"uk pt", "brpint", "mL"},
	{"mg", "mg", "g"},
	{"kg", "kg", "g"},
	{"tonne", "tonne", "g"},
	{"oz", "ounce", "g"},
	{"lb", "pound", "g"},
	{"short ton", "shortton", "g"},
	{"mm", "mm", "cm"},
	{"m", "m", "cm"},
	{"in", "inch", "cm"},
	{"ft", "foot", "cm"},
	{"yd", "yard", "cm"},
	{"m2", "m^2", "cm^2"},
	{"ha", "hectare", "cm^2"},
	{"in2", "inch^2", "cm^2"},
	{"ft2", "foot^2", "cm^2"},
	{"psf", "lbf/foot^2", "kPa"},
}

// TestAgainstGNUUnits asks another program for every factor, in one run.
func TestAgainstGNUUnits(t *testing.T) {
	program, err := exec.LookPath("units")
	if err != nil {
		t.Skip("GNU units is not installed: the factors are not compared with a second program")
	}
	var in strings.Builder
	for _, c := range outside {
		fmt.Fprintf(&in, "%s\n%s\n", c.theirs, c.base)
	}
	cmd := exec.Command(program, "--terse", "--digits", "15")
	cmd.Stdin = strings.NewReader(in.String())
	out, err := cmd.Output()
	require.NoError(t, err)
	lines := strings.Fields(string(out))
	require.Len(t, lines, len(outside), string(out))
	for i, c := range outside {
		theirs, err := strconv.ParseFloat(lines[i], 64)
		require.NoError(t, err, c.word)
		u, ok := Lookup(c.word, US)
		require.True(t, ok, c.word)
		ours, _ := u.Factor.Float64()
		assert.InEpsilon(t, theirs, ours, 1e-14, c.word)
	}
}

// Some versions of GNU units take the survey acre, so the acre stands by its definition: 43 560 square feet
// (NIST Handbook 44, appendix C).
func TestAcre(t *testing.T) {
	acre, _ := Lookup("acre", US)
	foot, _ := Lookup("ft2", US)
	assert.Equal(t, "43560", new(big.Rat).Quo(acre.Factor, foot.Factor).RatString())
}
