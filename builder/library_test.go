package builder

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// library writes a large handbook: so many notes of about 4 KB, three in four with one recipe or two at six
// sizes, a cupboard, pots, a diary and a plan. The same count gives the same bytes.
func library(tb testing.TB, dir string, count int) {
	tb.Helper()
	by := shelf{tb: tb, dir: dir, random: rand.New(rand.NewPCG(7, uint64(count)))}
	by.write("handbook.yaml", "title: A large handbook\naddress: https://bench.example/\nmeasures: {main: us, also: [metric]}\ncurrency: EUR\nfrost: {spring: \"04-20\", autumn: \"10-15\"}\n")
	by.write("cupboard.yaml", libraryCupboard)
	by.write("pots.yaml", "pot: {name: Pot, holds: 20 L, count: 40}\ntub: {name: Tub, shape: round 40 cm top 32 cm base 38 cm deep, fill: 34 cm}\n")
	for i := range count {
		by.write(fmt.Sprintf("topic-%02d/note-%d.md", i%20, i), by.note(i))
	}
	by.write("diary.md", by.diary())
	by.write("plan.md", by.plan())
}

const libraryCupboard = `alfalfa-meal: {label: {n: 2.5, p2o5: 0.5, k2o: 2.5}, cup weighs: 72 g, packs: [{holds: 2 kg, price: 9.50}]}
feather-meal: {label: {n: 12, p2o5: 0, k2o: 0}, cup weighs: 104 g, packs: [{holds: 1 kg, price: 8.00}]}
kelp-meal: {label: {n: 1, p2o5: 0.2, k2o: 2}, cup weighs: 176 g, packs: [{holds: 500 g, price: 6.50}]}
`

type shelf struct {
	tb     testing.TB
	dir    string
	random *rand.Rand
}

func (by shelf) write(name, text string) {
	full := filepath.Join(by.dir, filepath.FromSlash(name))
	require.NoError(by.tb, os.MkdirAll(filepath.Dir(full), 0o755))
	require.NoError(by.tb, os.WriteFile(full, []byte(text), 0o644))
}

// note is prose with a list, a table and links, and the recipes where it has some.
func (by shelf) note(i int) string {
	var b strings.Builder
	fmt.Fprintf(&b, "```page\nsummary: What note %d says.\nwritten: 2026-%02d-%02d\ntopics: [topic %d]\n```\n\n# Note %d\n\n", i, 1+i%9, 1+i%28, i%20, i)
	recipes := 0
	if i%4 != 0 {
		recipes = 1 + i%2
	}
	for r := range recipes {
		fmt.Fprintf(&b, "## Recipe %d\n\n%s\n", r+1, by.recipe(fmt.Sprintf("recipe-%d-%d", i, r+1)))
	}
	fmt.Fprintf(&b, "- Weigh *before* you pour.\n- [ ] Level the spoon.\n- See [another note](../topic-%02d/note-%d.md).\n\n| Pot | Depth |\n|---|---|\n| small | 12 cm |\n| large | 30 cm |\n\n", (i/2)%20, i/2)
	for b.Len() < 4000 {
		fmt.Fprintf(&b, "%s\n\n", by.paragraph())
	}
	return b.String()
}

// recipe is for two to five amendments, every fourth with a choice, every second for a crop.
func (by shelf) recipe(id string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "```recipe %s\ntitle: Renewal %s\nfor: %d L\n", id, id, 10+by.random.IntN(40))
	if by.random.IntN(2) == 0 {
		fmt.Fprintf(&b, "crop: %s\nplants: 1\n", []string{"pepper", "kale", "lettuce", "carrot"}[by.random.IntN(4)])
	}
	fmt.Fprintf(&b, "amounts:\n  alfalfa-meal: %d tbsp\n  gypsum: %d tsp\n", 2+by.random.IntN(10), 1+by.random.IntN(4))
	if by.random.IntN(2) == 0 {
		fmt.Fprintf(&b, "  feather-meal: %d tsp\n", 1+by.random.IntN(6))
	}
	if by.random.IntN(4) == 0 {
		b.WriteString("  potash, one of:\n    kelp-meal: 2 tbsp\n    langbeinite: 1 tsp\n")
	}
	b.WriteString("top: {compost: yard-compost, depth: 3 cm}\nsizes: [5 L, 10 L, 20 L, 30 L, 50 L, tub]\n```\n")
	return b.String()
}

func (by shelf) paragraph() string {
	words := strings.Fields("mix compost pot water root soil leaf spoon cup handful season spring drain depth salt lime light heavy dry wet level weigh measure again slowly before after")
	var out []string
	for range 60 {
		out = append(out, words[by.random.IntN(len(words))])
	}
	return strings.Join(out, " ") + "."
}

func (by shelf) diary() string {
	var b strings.Builder
	b.WriteString("# Diary\n\n```diary\n")
	for pot := 1; pot <= 40; pot++ {
		fmt.Fprintf(&b, "- {on: 2026-04-20, pot: pot-%d, did: planted, crop: kale, plants: 1}\n- {on: 2026-08-20, pot: pot-%d, did: harvested, crop: kale, yield: 400 g}\n", pot, pot)
	}
	return b.String() + "```\n"
}

func (by shelf) plan() string {
	var b strings.Builder
	b.WriteString("# Plan\n\n```plan next\nseason: 2027\npots:\n")
	for pot := 1; pot <= 40; pot++ {
		fmt.Fprintf(&b, "  pot-%d: {recipe: recipe-1-1, crop: lettuce, plants: 1}\n", pot)
	}
	return b.String() + "```\n"
}
