package markdown

import (
	"slices"
	"testing"

	"github.com/alecthomas/chroma/v2"
	"github.com/alecthomas/chroma/v2/lexers"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// hasty are the library's own lexers, from before any test puts others in their place.
var hasty = slices.Clone(lexers.GlobalLexerRegistry.Lexers)

const sampleOfAll = "# heading\n<a href=\"x\">one</a> {{ two }} /* three */ -- four\nif x == 1 { return \"six\"; }\nkey: [1, 2.5, 'a b'] # end\n"

func tokensOf(t *testing.T, l chroma.Lexer) []chroma.Token {
	t.Helper()
	next, err := l.Tokenise(nil, sampleOfAll)
	require.NoError(t, err, l.Config().Name)
	var out []chroma.Token
	for token := next(); token != chroma.EOF && len(out) < 500; token = next() {
		out = append(out, token)
	}
	return out
}

// TestPatientLexersReadAlike compares each lexer with the library's own.
func TestPatientLexersReadAlike(t *testing.T) {
	require.Greater(t, len(hasty), 200)
	for _, name := range []string{"YAML", "Go", "HTML", "CSS", "JavaScript", "JSON", "Bash", "Python", "markdown", "PHP", "C++", "SQL", "XML", "TOML", "INI"} {
		at := slices.IndexFunc(hasty, func(l chroma.Lexer) bool { return l.Config().Name == name })
		require.GreaterOrEqual(t, at, 0, name)
		assert.Equal(t, tokensOf(t, hasty[at]), tokensOf(t, lexerOf(name)), name)
	}
	assert.Nil(t, lexerOf("no such language"))
}

// TestEveryStepIsPatient looks at the compiled rules from inside a lexer that runs.
func TestEveryStepIsPatient(t *testing.T) {
	seen := 0
	look := chroma.MutatorFunc(func(s *chroma.LexerState) error {
		for _, group := range s.Rules {
			for _, r := range group {
				assert.Equal(t, patience, r.Regexp.MatchTimeout, r.Pattern)
				seen++
			}
		}
		return nil
	})
	l := patient(chroma.MustNewLexer(&chroma.Config{Name: "test"}, func() chroma.Rules {
		return chroma.Rules{
			"root": {{Pattern: `#`, Type: chroma.Comment, Mutator: look}, chroma.Include("more")},
			"more": {{Pattern: `.|\n`, Type: chroma.Text}},
		}
	}))
	assert.NotEmpty(t, tokensOf(t, l))
	assert.Equal(t, 2*3, seen, "two signs, and a rule that stands in two groups")
}
