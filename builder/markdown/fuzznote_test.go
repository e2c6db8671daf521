package markdown

import (
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"

	"trug/calcblocks/kit/diag"
)

// FuzzNote reads any text as a note. Each fault has a code, a hint and a place inside the note; each character
// of each block stands at the place that is told for it; and what is written nests and holds no element, no
// attribute and no address that could run anything.
func FuzzNote(f *testing.F) {
	for _, p := range pieces {
		f.Add(p + "é " + p)
	}
	for _, s := range hostileMarkdown {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if !utf8.ValidString(text) {
			return // refused where the note is read
		}
		file := diag.NewFile("note.md", text)
		var told diag.List
		d := Parse(file, Options{Kinds: testKinds}, told.Report)
		assertTold(t, file, &told)
		for _, b := range d.Blocks {
			checkBody(t, file, b)
		}
		for _, p := range d.Passages(file) {
			for i, c := range p.Text {
				if c > ' ' { // blanks stand for code and such
					assertInside(t, file, p.At(i))
				}
			}
		}
		out := d.HTML(Hooks{})
		checkHTML(t, out)
		assertHarmless(t, out)
	})
}

// hostileMarkdown is what someone writes who wants a page to run something.
var hostileMarkdown = []string{
	"[a](javascript:alert(1))", "[a](JaVaScRiPt:alert(1))", "[a](java\tscript:alert(1))", "[a](&#106;avascript&colon;alert(1))",
	"[a](<java\nscript:alert(1)>)", "[a](\\javascript:alert(1))", "[a](%6Aavascript:alert(1))", "[a](&#1;javascript:alert(1))",
	"[a](data:text/html;base64,PHNjcmlwdD4=)", "[a](vbscript:x)", "![a](javascript:alert(1))", "![a](data:image/svg+xml,<svg/onload=alert(1)>)",
	"<javascript:alert(1)>", "<vbscript:x>", "<data:text/html,x>", "[a]\n\n[a]: javascript:alert(1)", "[a]: <data:x> 'y'\n\n![a]",
	"<script>alert(1)</script>", "a <img src=x onerror=alert(1)> b", "<svg onload=alert(1)>", "<!-- --><script>", "]]><script>",
	"[a](b \"' onmouseover='alert(1)\")", "[a](b '\" onmouseover=\"alert(1)')", "![\" onerror=\"alert(1)](b)", "```\" onload=\"alert(1)\nx\n```\n",
	"[a](figure:\"><script>)", "# <script>alert(1)</script>\n", "[^\"><script>]\n\n[^\"><script>]: x", "| <script> |\n|-|\n| <b onclick=x> |", "&lt;script&gt;", "\u2028<script>",
	"[a](feed:javascript:x)", "[a](blob:x)", "[a](about:blank)", "[a](filesystem:x)",
}

func assertTold(t *testing.T, file *diag.File, told *diag.List) {
	for _, d := range told.Sorted() {
		require.NotEmpty(t, d.Code)
		require.NotEmpty(t, d.Hints, d.Message)
		assertInside(t, file, d.At)
		for _, r := range d.Related {
			assertInside(t, file, r.At)
		}
	}
}

func assertInside(t *testing.T, file *diag.File, at diag.Position) {
	lines := strings.Split(file.Text, "\n")
	require.GreaterOrEqual(t, at.Line, 1)
	require.LessOrEqual(t, at.Line, len(lines))
	require.GreaterOrEqual(t, at.Column, 1)
	require.LessOrEqual(t, at.Column, utf8.RuneCountInString(lines[at.Line-1])+1)
}

// The elements and attributes that a note's HTML is made of, and the schemes that its links have.
var (
	harmlessTags = strings.Fields(`a blockquote br code dd del div dl dt em h1 h2 h3 h4 h5 h6 hr img input label li ol p pre section span strong sup table tbody td th thead tr ul`)
	harmlessKeys = strings.Fields(`alt aria-label checked class disabled height href id loading role scope sizes src srcset start tabindex title type width`)
	harmless     = []string{"", "https", "http", "mailto", "tel", "sms", "geo", "webcal", "figure"}
)

// assertHarmless reads a page as a browser does and finds only what a note may write.
func assertHarmless(t *testing.T, out string) {
	nodes, err := html.ParseFragment(strings.NewReader(out), &html.Node{Type: html.ElementNode, Data: "main", DataAtom: atom.Main})
	require.NoError(t, err)
	for _, top := range nodes {
		for n := range top.Descendants() {
			assertHarmlessNode(t, n, out)
		}
		assertHarmlessNode(t, top, out)
	}
}

func assertHarmlessNode(t *testing.T, n *html.Node, out string) {
	require.NotEqual(t, html.CommentNode, n.Type, out)
	if n.Type != html.ElementNode {
		return
	}
	require.Contains(t, harmlessTags, n.Data, out)
	for _, a := range n.Attr {
		require.Contains(t, harmlessKeys, a.Key, out)
		if a.Key == "href" || a.Key == "src" {
			require.Contains(t, harmless, browserScheme(a.Val), "%q in %s", a.Val, out)
		}
	}
}

// browserScheme returns the scheme that a browser finds in an address (WHATWG URL Standard): blanks and
// control characters in front go, tabs and line ends go everywhere.
func browserScheme(address string) string {
	address = strings.TrimLeft(address, "\x00\x01\x02\x03\x04\x05\x06\x07\x08\t\n\x0b\x0c\r\x0e\x0f\x10\x11\x12\x13\x14\x15\x16\x17\x18\x19\x1a\x1b\x1c\x1d\x1e\x1f ")
	address = strings.Map(func(r rune) rune {
		if r == '\t' || r == '\n' || r == '\r' {
			return -1
		}
		return r
	}, address)
	scheme, _, found := strings.Cut(address, ":")
	if !found || !regexp.MustCompile(`^[A-Za-z][A-Za-z0-9+.-]*$`).MatchString(scheme) {
		return ""
	}
	return strings.ToLower(scheme)
}
