package balance

import (
	"fmt"
	"strconv"
	"strings"
)

// recipe writes the amounts as the fields of a recipe block. Each is one quantity that the recipe measures
// with the same spoons.
func (c *computation) recipe() string {
	var b strings.Builder
	fmt.Fprintf(&b, "title: %s\n", strconv.Quote(c.title))
	fmt.Fprintf(&b, "for: %s\n", c.volumeText())
	if c.cropOK != nil && c.plants > 0 {
		fmt.Fprintf(&b, "crop: %s\nplants: %d\n", c.cropOK.ID, c.plants)
	}
	b.WriteString("amounts:\n")
	for _, u := range c.used {
		fmt.Fprintf(&b, "  %s: %s\n", u.material.ID, u.scoop.Amount(c.pass.Garden.Handbook.Main))
	}
	fmt.Fprintf(&b, "sizes: [%s]\n", strconv.Quote(c.container.Text))
	return b.String()
}

// volumeText is the volume as the author wrote it, else the litres of the container.
func (c *computation) volumeText() string {
	if _, err := c.pass.Garden.Values().Volume(c.container.Text); err == nil {
		return c.container.Text
	}
	return litresText(c.litres) + " L"
}

// litresText writes litres to the nanolitre, as volumes are kept.
func litresText(x float64) string {
	text := strconv.FormatFloat(x, 'f', 9, 64)
	return strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
}
