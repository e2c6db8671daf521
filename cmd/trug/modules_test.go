package main

import (
	"encoding/json"
	"os"
	"os/exec"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestEachModuleHasItsReason: the table of libraries for contributors names what go.mod asks for by itself, in its
// order, and tells rightly which of it is linked into the program.
func TestEachModuleHasItsReason(t *testing.T) {
	text, err := exec.Command("go", "mod", "edit", "-json").Output()
	require.NoError(t, err)
	var file struct {
		Require []struct {
			Path     string
			Indirect bool
		}
	}
	require.NoError(t, json.Unmarshal(text, &file))
	shipped := shippedModules(t)
	var want []string
	for _, m := range file.Require {
		in := "tests"
		if shipped[m.Path] != nil {
			in = "shipped"
		}
		if !m.Indirect {
			want = append(want, m.Path+" "+in)
		}
	}
	doc, err := os.ReadFile("../../DEVELOPERS.md")
	require.NoError(t, err)
	var have []string
	for _, row := range regexp.MustCompile("(?m)^\\| `([^`]+\\.[^`]+/[^`]+)` \\| (shipped|tests) \\| .{10,}").FindAllStringSubmatch(string(doc), -1) {
		have = append(have, row[1]+" "+row[2])
	}
	assert.Equal(t, want, have)
}
