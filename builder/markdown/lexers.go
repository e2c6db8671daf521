package markdown

import (
	"slices"
	"sync"
	"time"

	"github.com/alecthomas/chroma/v2"
	"github.com/alecthomas/chroma/v2/lexers"
)

// patience is how long one step of a lexer may take. The library's own quarter of a second is reached by an
// ordinary block on a busy machine, and the page would then depend on what else ran there; only an expression
// that has lost itself takes a minute.
const patience = time.Minute

// lexerOf returns the lexer of a language, nil for none.
func lexerOf(language string) chroma.Lexer {
	makePatient()
	return lexers.Get(language)
}

// makePatient puts a patient lexer in the place of each one of the library, where those that are embedded in
// others are looked up too.
var makePatient = sync.OnceFunc(func() {
	for _, l := range slices.Clone(lexers.GlobalLexerRegistry.Lexers) {
		if plain, ok := l.(*chroma.RegexLexer); ok {
			lexers.Register(patient(plain))
		}
	}
})

// patient returns a lexer with the rules of another and one more, which is gone once it has set the patience of
// all: the library hands compiled rules to nobody else.
func patient(l *chroma.RegexLexer) chroma.Lexer {
	rules := func() chroma.Rules {
		all := l.MustRules().Clone()
		all["root"] = append(all["root"], chroma.Rule{Pattern: `(?!)`, Mutator: setPatience{}})
		return all
	}
	return chroma.MustNewLexer(l.Config(), rules).SetAnalyser(l.AnalyseText)
}

type setPatience struct{}

// MutateLexer is called once, when the rules are compiled.
func (setPatience) MutateLexer(rules chroma.CompiledRules, state string, rule int) error {
	for _, group := range rules {
		for _, r := range group {
			r.Regexp.MatchTimeout = patience
		}
	}
	rules[state] = slices.Delete(rules[state], rule, rule+1)
	return nil
}

// Mutate is never called: the rule matches nothing.
func (setPatience) Mutate(*chroma.LexerState) error { return nil }
