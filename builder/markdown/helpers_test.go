package markdown

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"

	"trug/calcblocks/kit/diag"
)

var testKinds = []string{
	"page", "recipe", "topup", "balance", "swap", "mix", "feed", "compost", "reading", "weight",
	"dates", "plan", "diary", "shopping", "trial",
}

// parse reads a note and returns its diagnostics as "line:column severity code message | hints".
func parse(text string) (*Document, []string) {
	var list diag.List
	d := Parse(diag.NewFile("note.md", text), Options{Kinds: testKinds}, list.Report)
	var out []string
	for _, x := range list.Sorted() {
		out = append(out, fmt.Sprintf("%d:%d %v %s", x.At.Line, x.At.Column, x.Severity, x.Code))
	}
	return d, out
}

// write reads a note and returns its HTML, after checking what holds for every note.
func write(t *testing.T, text string, h Hooks) string {
	t.Helper()
	d, _ := parse(text)
	out := d.HTML(h)
	checkHTML(t, out)
	return out
}

var void = map[string]bool{"br": true, "hr": true, "img": true, "input": true}

// flow are the elements that cannot stand in a paragraph.
var flow = map[string]bool{
	"p": true, "pre": true, "div": true, "table": true, "ul": true, "ol": true, "dl": true,
	"section": true, "blockquote": true, "hr": true, "h1": true, "h2": true, "h3": true, "h4": true,
}

// checkHTML fails when tags do not nest, a paragraph holds a block, an id comes twice, an attribute
// is a style or a link within the page leads nowhere.
func checkHTML(t require.TestingT, out string) {
	var open, fragments []string
	ids := map[string]bool{}
	z := html.NewTokenizer(strings.NewReader(out))
	for kind := z.Next(); kind != html.ErrorToken; kind = z.Next() {
		token := z.Token()
		switch kind {
		case html.StartTagToken:
			if flow[token.Data] {
				require.NotContains(t, open, "p", "<%s> in a paragraph: %s", token.Data, out)
				require.NotContains(t, open, "label", "<%s> in a label: %s", token.Data, out)
			}
			if !void[token.Data] {
				open = append(open, token.Data)
			}
		case html.EndTagToken:
			require.NotEmpty(t, open, "</%s> closes nothing: %s", token.Data, out)
			require.Equal(t, open[len(open)-1], token.Data, "tags do not nest: %s", out)
			open = open[:len(open)-1]
		}
		for _, a := range token.Attr {
			require.NotEqual(t, "style", a.Key, out)
			switch {
			case a.Key == "id":
				require.False(t, ids[a.Val], "id %q comes twice: %s", a.Val, out)
				ids[a.Val] = true
			case a.Key == "href" && strings.HasPrefix(a.Val, "#footnote_"):
				fragments = append(fragments, a.Val[1:])
			}
		}
	}
	require.Empty(t, open, "tags left open: %s", out)
	for _, f := range fragments {
		require.True(t, ids[f], "no element has the id %q: %s", f, out)
	}
}
