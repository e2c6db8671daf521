package markdown

import (
	"encoding/json"
	"fmt"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/diag"
)

// examplesVariable names the environment variable with the path of the standard's examples: a JSON
// list of {markdown, html, example, section}.
const examplesVariable = "TRUG_COMMONMARK"

// byDesign are the examples whose HTML differs from the standard's on purpose, and why.
var byDesign = map[int]string{}

func TestCommonMark(t *testing.T) {
	path := os.Getenv(examplesVariable)
	if path == "" {
		t.Skipf("%s is not set: it names a JSON file with the examples of CommonMark 0.31.2, which are not kept here", examplesVariable)
	}
	raw, err := os.ReadFile(path)
	require.NoError(t, err)
	var examples []struct {
		Markdown, HTML, Section string
		Example                 int
	}
	require.NoError(t, json.Unmarshal(raw, &examples))
	require.GreaterOrEqual(t, len(examples), 600, "the whole standard has more examples")
	for _, e := range examples {
		t.Run(fmt.Sprintf("%s %d", e.Section, e.Example), func(t *testing.T) {
			file := diag.NewFile("example.md", e.Markdown)
			var faults diag.List
			got := Parse(file, Options{Plain: true, Kinds: testKinds}, faults.Report).HTML(Hooks{})
			if reason := byDesign[e.Example]; reason != "" {
				assert.NotEqual(t, e.HTML, got, "no longer differs, though listed: %s", reason)
				return
			}
			assert.Equal(t, e.HTML, got)
		})
	}
}
