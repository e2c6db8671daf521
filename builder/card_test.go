package builder

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// A recipe of many sizes has a card of several tables below each other: no size is lost, and each stands above
// its own amounts.
func TestCardOfManySizes(t *testing.T) {
	var sizes []string
	for litres := 5; litres <= 90; litres += 5 {
		sizes = append(sizes, fmt.Sprintf("%d L", litres))
	}
	page := built(t, "-- a.md --\n# A\n\n```recipe many\ntitle: Many\nfor: 10 L\namounts:\n  gypsum: 10 g\nsizes: ["+strings.Join(sizes, ", ")+"]\n```\n")
	card := page("recipes/many/card/index.html")
	assert.Equal(t, 3, strings.Count(card, "<table>"), "18 sizes, 7 side by side")
	assert.Equal(t, 3, strings.Count(card, "Gypsum"))
	for litres := 5; litres <= 90; litres += 5 {
		assert.Contains(t, card, fmt.Sprintf(`<th scope="col">%d L</th>`, litres))
		assert.Contains(t, card, fmt.Sprintf("<td>%d g", litres))
	}
}

// A card says what its recipe was written for in the author's words, with the litres where these are other.
func TestCardSaysWhatForItWasWritten(t *testing.T) {
	for written, want := range map[string]string{
		"5 gal": "From a recipe for 5 gal of mix, which is 18.9 L", "20 L": "From a recipe for 20 L of mix", "20 litres": "From a recipe for 20 litres of mix", "12.75 L": "From a recipe for 12.75 L of mix", "1255 l": "From a recipe for 1255 l of mix",
		"20000 mL": "From a recipe for 20000 mL of mix, which is 20 L",
	} {
		page := built(t, "-- a.md --\n# A\n\n```recipe a\ntitle: A\nfor: "+written+"\namounts: {gypsum: 10 g}\n```\n")
		assert.Contains(t, page("recipes/a/card/index.html"), "<span>"+want+"</span>", written)
	}
}
