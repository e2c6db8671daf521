package markdown

import (
	"html"
	"slices"
	"strings"
	"sync"

	"github.com/alecthomas/chroma/v2"
	"github.com/alecthomas/chroma/v2/lexers"
	"github.com/yuin/goldmark/util"
)

// Highlight returns code as HTML: spans with a class and no style, to stand inside <pre><code>. An
// unknown language gives the escaped code alone. The text of the result is always the code itself.
//
// The classes are the library's short ones. A style sheet needs these groups; the finer ones may look
// like the first of their group:
//
//	k kc kd kn kp kr kt                      keywords, literals such as true, types
//	n na nb bp nc no nd ni ne nf fm py nl nn nx nt nv vc vg vi vm   names; nt is a key in YAML, a tag in HTML
//	l ld                                     literals, dates; plain values in YAML
//	s sa sb sc dl sd s2 se sh si sx sr s1 ss text in quotes
//	m mb mf mh mi il mo                      numbers
//	o ow or, p                               operators, punctuation
//	c ch cm cp cpf c1 cs                     comments
//	g gd ge gr gh gi go gp gs gu gt gl       removed, added, headings, prompt and output of a terminal
//	x                                        anything else
func Highlight(code, language string) string {
	code = clean(code)
	tokens, ok := tokenise(code, language)
	if !ok {
		return html.EscapeString(code)
	}
	var b strings.Builder
	for _, t := range tokens {
		writeToken(&b, t)
	}
	return b.String()
}

// tokenise returns the tokens of code and whether they hold all of it and nothing else. A lexer that
// fails, in whatever way, costs the colours and not the page.
func tokenise(code, language string) (out []chroma.Token, ok bool) {
	defer func() {
		if recover() != nil {
			ok = false
		}
	}()
	if language == "" {
		return nil, false
	}
	lexer := lexerOf(language)
	if lexer == nil {
		return nil, false
	}
	next, err := lexer.Tokenise(nil, code)
	if err != nil {
		return nil, false
	}
	return collect(next, code)
}

// stuck is how many empty tokens one after another mean that a lexer turns in a circle. Some do, on
// text that is not of their language.
const stuck = 1000

// collect reads tokens until they hold the whole code, and joins neighbours of one class.
func collect(next chroma.Iterator, code string) (out []chroma.Token, ok bool) {
	rest, empty := code, 0
	for t := next(); t != chroma.EOF && rest != ""; t = next() {
		if t.Value == "" {
			if empty++; empty > stuck {
				return nil, false
			}
			continue
		}
		empty = 0
		t.Value = t.Value[:min(len(t.Value), len(rest))] // some lexers add a line end
		if !strings.HasPrefix(rest, t.Value) {
			return nil, false
		}
		rest = rest[len(t.Value):]
		if n := len(out) - 1; n >= 0 && classOf(out[n].Type) == classOf(t.Type) {
			out[n].Value += t.Value
		} else {
			out = append(out, t)
		}
	}
	return out, rest == ""
}

func writeToken(b *strings.Builder, t chroma.Token) {
	class := classOf(t.Type)
	if class == "" {
		b.WriteString(html.EscapeString(t.Value))
		return
	}
	b.WriteString(`<span class="` + class + `">` + html.EscapeString(t.Value) + `</span>`)
}

// classOf returns the class of a sort of token, "" for what looks like the rest. Text that the lexer
// could not read is no error of the reader's, and is not marked.
func classOf(t chroma.TokenType) string {
	if t == chroma.Error || t == chroma.Whitespace || t == chroma.TextWhitespace {
		return ""
	}
	for ; t != 0; t = t.Parent() {
		if class, ok := chroma.StandardTypes[t]; ok {
			return class
		}
	}
	return ""
}

// clean replaces the character that no HTML page may hold.
func clean(code string) string { return strings.ReplaceAll(code, "\x00", "\ufffd") }

// languages are the names of all known languages in lower case, sorted.
var languages = sync.OnceValue(func() []string {
	var all []string
	for _, name := range lexers.Names(true) {
		all = append(all, strings.ToLower(name))
	}
	slices.Sort(all)
	return slices.Compact(all)
})

// isLanguage says whether a word is exactly the name of a language.
func isLanguage(word string) bool {
	_, found := slices.BinarySearch(languages(), strings.ToLower(word))
	return found
}

// writeCode writes a code block. It can be reached by keyboard, because long lines scroll.
func writeCode(b util.BufWriter, code, language string) {
	_, _ = b.WriteString(`<pre tabindex="0"><code`)
	if language != "" {
		_, _ = b.WriteString(` class="language-` + escape(language) + `"`)
	}
	_, _ = b.WriteString(">" + Highlight(code, language) + "</code></pre>\n")
}
