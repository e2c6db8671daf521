package markdown

import (
	"bytes"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"
)

// strikes adds what is struck through, between two tildes on each side. The library takes one for the same, but in notes
// one means "about" or "to": "~5 L", "5~10 L to tubs and 3~4 cups to troughs".
type strikes struct{}

// strikePriority is the library's.
const strikePriority = 500

func (strikes) Extend(m goldmark.Markdown) {
	m.Parser().AddOptions(parser.WithInlineParsers(util.Prioritized(pairsOfTildes{extension.NewStrikethroughParser()}, strikePriority)))
}

// pairsOfTildes leaves a single tilde alone.
type pairsOfTildes struct{ parser.InlineParser }

func (p pairsOfTildes) Parse(parent ast.Node, block text.Reader, pc parser.Context) ast.Node {
	if line, _ := block.PeekLine(); !bytes.HasPrefix(line, []byte("~~")) {
		return nil
	}
	return p.InlineParser.Parse(parent, block, pc)
}
