package markdown

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"

	"trug/calcblocks/kit/diag"
)

// A folded note is printed as if it had its tree: the same HTML, and the blocks that were read first.
func TestFold(t *testing.T) {
	text := "# Tubs\n\nSee [this](figure:a/b \"so\") and ![a tub](tub.jpg).[^1]\n\n```recipe a\nfor: 20 L\n```\n\n## Then\n\n```go\nx := 1\n```\n\n```recipe b\nfor: 10 L\n```\n\n| a | b |\n|---|---|\n| 1 | 2 |\n\n- [ ] level\n\n[^1]: A foot.\n"
	d := Parse(diag.NewFile("tubs.md", text), Options{Kinds: []string{"recipe"}}, nil)
	print := func() (html string, blocks []*Block) {
		html = d.HTML(Hooks{
			Block: func(b *Block) string { blocks = append(blocks, b); return fmt.Sprintf("<b>%s</b>", b.ID) },
			Link:  func(target string, at diag.Position) string { return fmt.Sprint(target, at.Line) },
		})
		return html, blocks
	}
	html, blocks := print()
	prose, passages := d.Prose(), d.Passages(d.file)
	d.Fold()
	again, same := print()
	assert.Equal(t, html, again)
	assert.Equal(t, prose, d.Prose())
	assert.Equal(t, passages, d.Passages(d.file))
	assert.Len(t, same, 2)
	for i, b := range blocks {
		assert.Same(t, b, same[i])
	}
	assert.Nil(t, d.root, "it stays folded")
}
