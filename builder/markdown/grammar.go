package markdown

import (
	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/util"
)

// The two grammars are made once: a parser keeps nothing of a note, all of that is in the context.
var plainGrammar, fullGrammar = newGrammar(), newGrammar(
	tables{}, footnotes{}, extension.DefinitionList, extension.TaskList,
	strikes{}, extension.NewTypographer(typography),
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

// The library's places for what is wrapped here, among its block and its inline parsers.
const (
	listPriority, fencePriority, quotePriority = 300, 700, 800
	linkPriority, definitionPriority           = 200, 100
)

func newGrammar(extensions ...goldmark.Extender) parser.Parser {
	p := parser.NewParser(
		parser.WithBlockParsers(wrapped(parser.DefaultBlockParsers(), map[int]any{
			listPriority: shallow{parser.NewListParser()}, quotePriority: shallow{parser.NewBlockquoteParser()},
			fencePriority: fenceParser{parser.NewFencedCodeBlockParser()},
		})...),
		parser.WithInlineParsers(wrapped(parser.DefaultInlineParsers(), map[int]any{linkPriority: fewBrackets{parser.NewLinkParser()}})...),
		parser.WithParagraphTransformers(wrapped(parser.DefaultParagraphTransformers(), map[int]any{definitionPriority: fewLeads{parser.LinkReferenceParagraphTransformer}})...),
		parser.WithASTTransformers(util.Prioritized(unusedFootnotes{}, 1)),
	)
	return goldmark.New(goldmark.WithParser(p), goldmark.WithExtensions(extensions...)).Parser()
}

// wrapped puts our own parsers in the places of the library's.
func wrapped(all []util.PrioritizedValue, own map[int]any) []util.PrioritizedValue {
	for i, p := range all {
		if ours, ok := own[p.Priority]; ok {
			all[i] = util.Prioritized(ours, p.Priority)
		}
	}
	return all
}
