package main

import (
	"fmt"
	"io/fs"
	"maps"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A shipped module is one whose code is in the program on some system.
type shipped struct {
	version, dir string
	folders      map[string]bool // of its packages that are linked, and its root
}

// targets are the systems and machines that releases are built for, as in .ci/release.sh.
var targets = []string{"linux/amd64", "linux/arm64", "darwin/amd64", "darwin/arm64", "windows/amd64", "windows/arm64"}

// shippedModules asks the go command for what is linked, on all targets; tests and tools are not.
func shippedModules(t *testing.T) map[string]*shipped {
	t.Helper()
	out := map[string]*shipped{ownModule: {dir: filepath.Join("..", ".."), folders: map[string]bool{".": true}}}
	for _, target := range targets {
		system, machine, _ := strings.Cut(target, "/")
		cmd := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{if .Version}}{{.Path}} {{.Version}} {{.Dir}} {{$.Dir}}{{end}}{{end}}", ".")
		cmd.Env = append(os.Environ(), "GOOS="+system, "GOARCH="+machine, "CGO_ENABLED=0")
		text, err := cmd.Output()
		require.NoError(t, err)
		for line := range strings.Lines(string(text)) {
			fields := strings.Fields(line)
			if len(fields) == 0 {
				continue
			}
			require.Len(t, fields, 4, line)
			m := out[fields[0]]
			if m == nil {
				m = &shipped{fields[1], fields[2], map[string]bool{".": true}}
				out[fields[0]] = m
			}
			m.linked(t, fields[3])
		}
	}
	root, err := exec.Command("go", "env", "GOROOT").Output()
	require.NoError(t, err)
	out[goStandard] = &shipped{dir: strings.TrimSpace(string(root)), folders: map[string]bool{".": true}}
	return out
}

// linked takes in the folder of a package and those above it.
func (m *shipped) linked(t *testing.T, dir string) {
	t.Helper()
	rel, err := filepath.Rel(m.dir, dir)
	require.NoError(t, err)
	for at := filepath.ToSlash(rel); at != "."; at = path.Dir(at) {
		m.folders[at] = true
	}
}

var licenceName = regexp.MustCompile(`(?i)^(licen[sc]es?|copying|notice|patents|attrib|third_party_licenses)(\.(md|txt))?$`)

// texts are the files of a module that say how it may be used, by their paths in it.
func (m *shipped) texts(t *testing.T) map[string]string {
	t.Helper()
	out := map[string]string{}
	root := os.DirFS(m.dir)
	take := func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := fs.ReadFile(root, name)
		out[name] = string(text)
		return err
	}
	for folder := range m.folders {
		entries, err := fs.ReadDir(root, folder)
		require.NoError(t, err)
		for _, e := range entries {
			if licenceName.MatchString(e.Name()) {
				require.NoError(t, fs.WalkDir(root, path.Join(folder, e.Name()), take)) // a folder of texts too
			}
		}
	}
	return out
}

// signs are words that stand in a licence and in no other of these (texts of the SPDX list).
var signs = []struct{ name, words string }{
	{"MIT", "Permission is hereby granted, free of charge, to any person obtaining a copy of this software and associated"},
	{"Apache-2.0", "Apache License"},
	{"BSD-3-Clause", "Redistributions in binary form must reproduce .* (Neither the name|The name)"},
	{"BSD-2-Clause", "Redistributions in binary form must reproduce"},
	{"OFL-1.1", "SIL OPEN FONT LICENSE Version 1.1"},
	{"Zlib", "Altered source versions must be plainly marked as such"},
}

// named tells the licence of a text, "" when it is none of those that are known here.
func named(text string) []string {
	var out []string
	text = strings.Join(strings.Fields(strings.ReplaceAll(text, "*", " ")), " ")
	for _, s := range signs {
		two := s.name == "BSD-2-Clause" && slices.Contains(out, "BSD-3-Clause")
		if !two && regexp.MustCompile(s.words).MatchString(text) {
			out = append(out, s.name)
		}
	}
	return out
}

// licenceOf joins the licences of a module's own texts; those of others that it thanks and of patents only add to them.
func licenceOf(t *testing.T, module string, texts map[string]string) string {
	t.Helper()
	var out []string
	for _, file := range slices.Sorted(maps.Keys(texts)) {
		base := strings.ToLower(path.Base(file))
		if strings.Contains(strings.ToLower(file), "third_party") || !strings.HasPrefix(base, "licen") && !strings.HasPrefix(base, "copying") {
			continue
		}
		found := named(texts[file])
		require.NotEmpty(t, found, "%s: the licence in %s is not known: read it, then add its words to the signs", module, file)
		for _, n := range found {
			if !slices.Contains(out, n) {
				out = append(out, n)
			}
		}
	}
	require.NotEmpty(t, out, "%s has no licence in it: it cannot be shipped", module)
	return strings.Join(out, " AND ")
}

// TestLicences: the program holds the licence texts of every module that it links on any system, to the letter, and
// of no other. With TRUG_WRITE=1 it gathers them.
func TestLicences(t *testing.T) {
	want := map[string]string{}
	list := ""
	modules := shippedModules(t)
	require.Greater(t, len(modules), 10)
	order := slices.Sorted(maps.Keys(modules))
	slices.SortStableFunc(order, func(a, b string) int { return rank(a) - rank(b) })
	for _, module := range order {
		m := modules[module]
		texts := m.texts(t)
		list += fmt.Sprintf("%s,%s,%s\n", module, m.version, licenceOf(t, module, texts))
		for file, text := range texts {
			want[path.Join(module, "texts", file)] = text
		}
	}
	want["list.csv"] = list
	if os.Getenv("TRUG_WRITE") != "" {
		require.NoError(t, os.RemoveAll("licences"))
		for file, text := range want {
			full := filepath.Join("licences", filepath.FromSlash(file))
			require.NoError(t, os.MkdirAll(filepath.Dir(full), 0o755))
			require.NoError(t, os.WriteFile(full, []byte(text), 0o644))
		}
		return
	}
	have := map[string]string{}
	sub, err := fs.Sub(licenceFiles, "licences")
	require.NoError(t, err)
	require.NoError(t, fs.WalkDir(sub, ".", func(file string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := fs.ReadFile(sub, file)
		have[file] = string(text)
		return err
	}))
	assert.Equal(t, slices.Sorted(maps.Keys(want)), slices.Sorted(maps.Keys(have)), "run this test with TRUG_WRITE=1")
	assert.Equal(t, want, have, "run this test with TRUG_WRITE=1")
}

// rank puts the program before Go and Go before the modules.
func rank(module string) int { return map[string]int{ownModule: -2, goStandard: -1}[module] }

// TestLicencesArePrinted: the list and every text can be had, and the names are those that the modules give
// themselves.
func TestLicencesArePrinted(t *testing.T) {
	all, err := licences()
	require.NoError(t, err)
	require.Equal(t, []string{ownModule, goStandard}, []string{all[0].module, all[1].module})
	names := map[string]string{}
	for _, l := range all {
		names[l.module] = l.name
		require.NotEmpty(t, l.texts, l.module)
		var out screen
		require.NoError(t, Console{Out: &out}.licences(l.module, "text"))
		for _, text := range l.texts {
			assert.Contains(t, out.String(), strings.TrimSpace(text.text), l.module)
		}
	}
	for module, want := range map[string]string{
		"trug": "MIT", "std": "BSD-3-Clause", "golang.org/x/text": "BSD-3-Clause", "github.com/yuin/goldmark": "MIT",
		"gopkg.in/yaml.v3": "MIT AND Apache-2.0", "github.com/arran4/golang-ical": "Apache-2.0", "github.com/rwcarlsen/goexif": "BSD-2-Clause",
	} {
		assert.Equal(t, want, names[module], module)
	}
	assert.NotContains(t, names, "github.com/stretchr/testify", "tests alone use it")
}
