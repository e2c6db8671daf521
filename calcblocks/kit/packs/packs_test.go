package packs_test

import (
	"fmt"
	"math/big"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/packs"
)

var goals = []packs.Goal{packs.Cheapest, packs.CheapestUnit, packs.LeastLeft}

func pack(holds string, price int64) packs.Pack {
	r, ok := new(big.Rat).SetString(holds)
	if !ok {
		panic(holds)
	}
	return packs.Pack{Holds: r, Price: price}
}

// shop returns a small shop: up to four packs of one step each.
func shop(r *rand.Rand) (int64, []packs.Pack) {
	var out []packs.Pack
	for range 1 + r.IntN(4) {
		out = append(out, packs.Pack{Holds: big.NewRat(int64(1+r.IntN(12)), 4), Price: int64(r.IntN(30))})
	}
	return int64(1 + r.IntN(50)), out
}

// every calls f with the counts of each way to buy at least what is needed that holds no more than one largest
// pack beyond it.
func every(need float64, shop []packs.Pack, f func(counts []int, holds, price float64)) {
	largest := 0.0
	for _, p := range shop {
		h, _ := p.Holds.Float64()
		largest = max(largest, h)
	}
	counts := make([]int, len(shop))
	var walk func(i int, holds float64, price float64)
	walk = func(i int, holds, price float64) {
		if i == len(shop) {
			if holds >= need {
				f(counts, holds, price)
			}
			return
		}
		h, _ := shop[i].Holds.Float64()
		for n := 0; holds+float64(n)*h < need+largest; n++ {
			counts[i] = n
			walk(i+1, holds+float64(n)*h, price+float64(n)*float64(shop[i].Price))
		}
		counts[i] = 0
	}
	walk(0, 0, 0)
}

// score is what a goal makes small, first things first.
func score(goal packs.Goal, holds, price float64) [2]float64 {
	switch goal {
	case packs.Cheapest:
		return [2]float64{price, holds}
	case packs.CheapestUnit:
		return [2]float64{price / holds, price}
	}
	return [2]float64{holds, price}
}

func less(a, b [2]float64) bool {
	const slack = 1e-9 // only the division of a unit price rounds
	return a[0] < b[0]-slack || (a[0] < b[0]+slack && a[1] < b[1]-slack)
}

// TestAgainstEveryWay holds the search against all ways to buy, in 1,000 random shops. Quarters are exact as
// floats, so the sums of the second road are exact too.
func TestAgainstEveryWay(t *testing.T) {
	r := rand.New(rand.NewPCG(27, 4))
	for range 1000 {
		steps, shop := shop(r)
		need := float64(steps) / 4
		for _, goal := range goals {
			got, ok := packs.Choose(need, shop, goal)
			require.True(t, ok)
			holds, _ := got.Holds.Float64()
			require.GreaterOrEqual(t, holds, need)
			mine := score(goal, holds, float64(got.Price))
			every(need, shop, func(counts []int, holds, price float64) {
				require.False(t, less(score(goal, holds, price), mine), "goal %d: need %v of %v: %v is better than %v", goal, need, shop, counts, got.Counts)
			})
		}
	}
}

// TestCountsAddUp: what a choice says that it holds and costs is what its packs do, and the order of the shop
// changes neither.
func TestCountsAddUp(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 1))
	for range 300 {
		steps, shop := shop(r)
		turned := make([]packs.Pack, len(shop))
		for i, p := range shop {
			turned[len(shop)-1-i] = p
		}
		for _, goal := range goals {
			got, _ := packs.Choose(float64(steps)/4, shop, goal)
			holds, price := new(big.Rat), int64(0)
			for i, n := range got.Counts {
				holds.Add(holds, new(big.Rat).Mul(shop[i].Holds, big.NewRat(int64(n), 1)))
				price += int64(n) * shop[i].Price
			}
			assert.Zero(t, holds.Cmp(got.Holds))
			assert.Equal(t, price, got.Price)
			other, _ := packs.Choose(float64(steps)/4, turned, goal)
			assert.Equal(t, got.Price, other.Price)
			assert.Zero(t, got.Holds.Cmp(other.Holds))
		}
	}
}

var optimum = regexp.MustCompile(`(?m)^Objective: +\S+ = (\S+)`)

// integerProgram asks GLPK for the least of an objective over whole packs that hold enough.
func integerProgram(t *testing.T, need string, shop []packs.Pack, weight func(packs.Pack) string) float64 {
	t.Helper()
	var aim, holds, names []string
	for i, p := range shop {
		name := fmt.Sprintf("x%d", i)
		aim = append(aim, weight(p)+" "+name)
		holds = append(holds, p.Holds.FloatString(6)+" "+name)
		names = append(names, name)
	}
	text := "Minimize\n aim: " + strings.Join(aim, " + ") + "\nSubject To\n enough: " + strings.Join(holds, " + ") + " >= " + need + "\nGeneral\n " + strings.Join(names, " ") + "\nEnd\n"
	dir := t.TempDir()
	model, answer := filepath.Join(dir, "shop.lp"), filepath.Join(dir, "answer.txt")
	require.NoError(t, os.WriteFile(model, []byte(text), 0o600))
	said, err := exec.Command("glpsol", "--lp", model, "-o", answer).CombinedOutput()
	require.NoError(t, err, string(said))
	out, err := os.ReadFile(answer)
	require.NoError(t, err)
	require.Contains(t, string(out), "INTEGER OPTIMAL")
	m := optimum.FindSubmatch(out)
	require.NotNil(t, m)
	x, err := strconv.ParseFloat(string(m[1]), 64)
	require.NoError(t, err)
	return x
}

// TestAgainstGLPK: two small shops as integer programs of an outside solver.
func TestAgainstGLPK(t *testing.T) {
	if _, err := exec.LookPath("glpsol"); err != nil {
		t.Skip("glpsol is not installed")
	}
	for _, c := range []struct {
		need string
		shop []packs.Pack
	}{
		{"3700", []packs.Pack{pack("500", 650), pack("2000", 1800), pack("750", 790)}},
		{"41.3", []packs.Pack{pack("2.5", 199), pack("4", 310), pack("7.5", 560), pack("11", 840)}},
	} {
		need, err := strconv.ParseFloat(c.need, 64)
		require.NoError(t, err)
		cheapest, _ := packs.Choose(need, c.shop, packs.Cheapest)
		price := integerProgram(t, c.need, c.shop, func(p packs.Pack) string { return strconv.FormatInt(p.Price, 10) })
		assert.Equal(t, price, float64(cheapest.Price))
		least, _ := packs.Choose(need, c.shop, packs.LeastLeft)
		holds, _ := least.Holds.Float64()
		assert.InDelta(t, integerProgram(t, c.need, c.shop, func(p packs.Pack) string { return p.Holds.FloatString(6) }), holds, 1e-9)
	}
}

// TestByHand: 1.2 kg of packs of 500 g at 5.50 and 2 kg at 14.00. Three small ones cost 16.50, a large one
// 14.00: the cheapest by either count; the least left is 1.5 kg. Of 1.9 kg and 4.1 kg the goals part.
func TestByHand(t *testing.T) {
	shop := []packs.Pack{pack("2000", 1400), pack("500", 550)}
	for _, c := range []struct {
		need float64
		goal packs.Goal
		want []int
	}{
		{1200, packs.Cheapest, []int{1, 0}},
		{1200, packs.CheapestUnit, []int{1, 0}},
		{1200, packs.LeastLeft, []int{0, 3}},
		{500, packs.Cheapest, []int{0, 1}},
		{500, packs.CheapestUnit, []int{1, 0}},
		{500 + 1e-8, packs.Cheapest, []int{0, 1}}, // rounding of the arithmetic is no need
		{500.1, packs.Cheapest, []int{0, 2}},
		{4100, packs.Cheapest, []int{2, 1}},
		{4100, packs.CheapestUnit, []int{3, 0}},
		{4100, packs.LeastLeft, []int{2, 1}},
		{0, packs.Cheapest, []int{0, 0}},
		{-3, packs.LeastLeft, []int{0, 0}},
	} {
		got, ok := packs.Choose(c.need, shop, c.goal)
		require.True(t, ok)
		assert.Equal(t, c.want, got.Counts, "%v by goal %d", c.need, c.goal)
	}
	_, ok := packs.Choose(1, nil, packs.Cheapest)
	assert.False(t, ok)
}

// TestTies: the same price buys the less that is left, and then the fewer packs.
func TestTies(t *testing.T) {
	got, _ := packs.Choose(7, []packs.Pack{pack("10", 100), pack("8", 100)}, packs.Cheapest)
	assert.Equal(t, []int{0, 1}, got.Counts)
	got, _ = packs.Choose(8, []packs.Pack{pack("4", 50), pack("8", 100), pack("2", 25)}, packs.Cheapest)
	assert.Equal(t, []int{0, 1, 0}, got.Counts)
	got, _ = packs.Choose(4, []packs.Pack{pack("4", 50), pack("4", 50)}, packs.LeastLeft)
	assert.Equal(t, []int{1, 0}, got.Counts, "of two alike the first")
}

// TestPoundsBesideKilograms: sizes without a common step of use go to the nearest small one, and a need of
// exactly so many pounds is met by so many pounds.
func TestPoundsBesideKilograms(t *testing.T) {
	shop := []packs.Pack{pack("453.59237", 500), pack("1000", 1000)}
	got, _ := packs.Choose(2*453.59237, shop, packs.LeastLeft)
	assert.Equal(t, []int{2, 0}, got.Counts)
	got, _ = packs.Choose(950, shop, packs.Cheapest)
	assert.Equal(t, []int{0, 1}, got.Counts)
}

// TestVeryMuch: a need far beyond what is searched is met, at no more than the cheapest pack alone costs.
func TestVeryMuch(t *testing.T) {
	shop := []packs.Pack{pack("7", 90), pack("11", 140), pack("3", 50)}
	for _, goal := range goals {
		got, _ := packs.Choose(30_000_001, shop, goal)
		holds, _ := got.Holds.Float64()
		assert.GreaterOrEqual(t, holds, 30_000_001.0)
		assert.Less(t, holds, 30_000_001.0+11)
		assert.LessOrEqual(t, got.Price, int64(140*(30_000_001/11+1)))
	}
}
