package layouts

import (
	"io/fs"
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestEveryTemplateIsDescribed: the list of templates is the list of files.
func TestEveryTemplateIsDescribed(t *testing.T) {
	files, err := fs.Glob(ours, "*/*.html")
	require.NoError(t, err)
	assert.ElementsMatch(t, files, templateNames())
}

// TestTemplatesReadWhatIsDescribed: each template takes data of the type that the list gives it, empty as it
// is: a name that is not there would be an error.
func TestTemplatesReadWhatIsDescribed(t *testing.T) {
	l := ourLayouts(t)
	for _, p := range patterns() {
		data := p.reads
		if _, page := pageName(p.reads); page {
			data = framed{Body: p.reads}
		}
		_, err := l.print(p.name, data)
		assert.NoError(t, err, p.name)
	}
}

// TestDescriptionIsHeld: a template that is given data of another type than the list says is our own fault, and
// loud; so what prints the pages of the other tests proves the list.
func TestDescriptionIsHeld(t *testing.T) {
	_, err := ourLayouts(t).print("parts/caution.html", stepModel{})
	assert.ErrorContains(t, err, "parts/caution.html")
	assert.ErrorContains(t, err, "layouts.stepModel")
}

// TestDataNamesAreUnique: two types of one name could not be told apart.
func TestDataNamesAreUnique(t *testing.T) {
	seen := map[string]reflect.Type{}
	for _, typ := range types() {
		before, taken := seen[typeName(typ)]
		assert.False(t, taken, "%s: %s and %s", typeName(typ), before, typ)
		seen[typeName(typ)] = typ
	}
}

func TestDressDoc(t *testing.T) {
	doc := DressDoc()
	for _, want := range []string{
		"| `pages/note.html` | a note | NotePage |\n",
		"| `parts/caution.html` | one caution | MarkedCaution |\n",
		"- **NotePage**: `Title` text, `Summary` text,",
		"`Picture` Picture or nothing",
		"`Topics` list of Link",
		"`Spots` text from text and number",
		"- **a part's place**: `Root` text,",
		"- **Table**: `Caption` text, `Columns` list of Column, `Rows` list of list of Cell, `Notes` list of text, and its place\n",
	} {
		assert.Contains(t, doc, want)
	}
	for name := range words {
		assert.Contains(t, doc, "| `"+name+" ", "the function %q is not described", name)
	}
}
