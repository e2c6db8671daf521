package markdown

import (
	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/util"
)

// The two grammars are made once: a parser keeps nothing of a note, all of that is in the context.
var plainGrammar, fullGrammar = newGrammar(), newGrammar(
	extension.NewTable(), extension.NewFootnote(), extension.DefinitionList, extension.TaskList,
	extension.Strikethrough, extension.NewTypographer(typography),
)

func grammar(plain bool) parser.Parser {
	if plain {
		return plainGrammar
	}
	return fullGrammar
}

// typography writes the characters themselves rather than entities. Angle quotes stay as typed:
// in notes on gardening << and >> are more often arrows or comparisons.
var typography = extension.WithTypographicSubstitutions(map[extension.TypographicPunctuation][]byte{
	extension.LeftSingleQuote:  []byte("‘"),
	extension.RightSingleQuote: []byte("’"),
	extension.LeftDoubleQuote:  []byte("“"),
	extension.RightDoubleQuote: []byte("”"),
	extension.EnDash:           []byte("–"),
	extension.EmDash:           []byte("—"),
	extension.Ellipsis:         []byte("…"),
	extension.Apostrophe:       []byte("’"),
	extension.LeftAngleQuote:   nil,
	extension.RightAngleQuote:  nil,
})

// fencePriority is the library's place for fenced blocks among its block parsers.
const fencePriority = 700

func newGrammar(extensions ...goldmark.Extender) parser.Parser {
	blocks := parser.DefaultBlockParsers()
	for i, b := range blocks {
		if b.Priority == fencePriority {
			blocks[i] = util.Prioritized(fenceParser{parser.NewFencedCodeBlockParser()}, fencePriority)
		}
	}
	p := parser.NewParser(
		parser.WithBlockParsers(blocks...),
		parser.WithInlineParsers(parser.DefaultInlineParsers()...),
		parser.WithParagraphTransformers(parser.DefaultParagraphTransformers()...),
		parser.WithASTTransformers(util.Prioritized(unusedFootnotes{}, 1)),
	)
	return goldmark.New(goldmark.WithParser(p), goldmark.WithExtensions(extensions...)).Parser()
}
