package builder

import (
	"context"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// watching notes, before anything of a page runs, each breach of its policy and each window that would open.
const watching = `window.breaches = [];
document.addEventListener("securitypolicyviolation", (e) => window.breaches.push(e.violatedDirective + " " + e.blockedURI));
for (const name of ["alert", "confirm", "prompt", "open"]) window[name] = () => { window.ran = name; };`

// visited opens a page and tells whether a text of the grower's ran, and how often the policy had to step in.
func visited(t *testing.T, ctx context.Context, address string) (ran bool, breaches int) {
	t.Helper()
	do(t, ctx, chromedp.Navigate(address), chromedp.WaitReady("body"))
	return ask[bool](t, ctx, `window.ran !== undefined`), ask[int](t, ctx, `window.breaches.length`)
}

var policyTag = regexp.MustCompile(`<meta http-equiv="Content-Security-Policy"[^>]*>`)

// TestHostileTextRunsNothing opens every page of a site whose every field holds markup that runs something. Nothing
// runs, and the policy is not even needed. The same markup planted as markup shows that it would run, and that the
// policy alone would stop it.
func TestHostileTextRunsNothing(t *testing.T) {
	ctx := browser(t)
	files := hostileSite(t, "https://bench.example/")
	front := string(files["index.html"])
	require.Regexp(t, policyTag, front)
	planted := strings.Replace(front, "</main>", evil+"</main>", 1)
	require.NoError(t, os.WriteFile("public/planted.html", []byte(planted), 0o644))
	require.NoError(t, os.WriteFile("public/bare.html", []byte(policyTag.ReplaceAllString(planted, "")), 0o644))
	server := httptest.NewServer(http.FileServer(http.Dir("public")))
	t.Cleanup(server.Close)
	_, err := chromedp.Call(ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: watching})
	require.NoError(t, err)

	pages := 0
	for name := range files {
		if filepath.Ext(name) != ".html" || strings.HasPrefix(name, "how/") {
			continue
		}
		pages++
		ran, breaches := visited(t, ctx, server.URL+"/"+name)
		assert.False(t, ran, name)
		assert.Zero(t, breaches, name)
	}
	assert.Greater(t, pages, 10)
	ran, breaches := visited(t, ctx, server.URL+"/search/index.html?q=script")
	assert.False(t, ran, "what the search finds")
	assert.Zero(t, breaches)

	ran, breaches = visited(t, ctx, server.URL+"/planted.html")
	assert.False(t, ran, "the policy stops what is planted")
	assert.Positive(t, breaches)
	ran, _ = visited(t, ctx, server.URL+"/bare.html")
	assert.True(t, ran, "without a policy it runs")
}
