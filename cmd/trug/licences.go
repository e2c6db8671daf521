package main

import (
	"embed"
	"fmt"
	"io/fs"
	"path"
	"runtime"
	"strings"

	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/diag"
)

// licenceFiles are the licences of all that the program is made of, by module, and their list. They are in the
// program, since whoever hands it on must hand them on as well. TRUG_WRITE=1 on TestLicences gathers them anew.
//
//go:embed licences
var licenceFiles embed.FS

// A licence is that of a module whose code is in the program.
type licence struct {
	module, version string
	name            string // by the SPDX list
	texts           []licenceText
}

type licenceText struct{ file, text string }

// The two that are no modules which the program requires.
const (
	ownModule  = "trug"
	goStandard = "std" // Go's own library and run time
)

// licences returns those of all modules, the program's own first.
func licences() ([]licence, error) {
	list, err := licenceFiles.ReadFile("licences/list.csv")
	if err != nil {
		return nil, err
	}
	var out []licence
	for line := range strings.Lines(string(list)) {
		fields := strings.Split(strings.TrimSpace(line), ",")
		if len(fields) != 3 {
			return nil, fmt.Errorf("the list of licences holds %q, not three words", line)
		}
		l := licence{module: fields[0], version: fields[1], name: fields[2]}
		if l.module == goStandard {
			l.version = runtime.Version()
		}
		if l.texts, err = licenceTexts(l.module); err != nil {
			return nil, err
		}
		out = append(out, l)
	}
	return out, nil
}

// licenceTexts returns the texts of a module by the paths that they have in it. One module's folder may lie in
// another's: each names its files in a folder of its own.
func licenceTexts(module string) ([]licenceText, error) {
	var out []licenceText
	dir := path.Join("licences", module, "texts")
	err := fs.WalkDir(licenceFiles, dir, func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := licenceFiles.ReadFile(name)
		out = append(out, licenceText{strings.TrimPrefix(name, dir+"/"), string(text)})
		return err
	})
	return out, err
}

// licences prints the list of licences, or the texts of one module.
func (c Console) licences(module, as string) error {
	all, err := licences()
	if err != nil {
		return err
	}
	var found []licence
	names := make([]string, len(all))
	for i, l := range all {
		names[i] = l.module
		if module == "" || l.module == module {
			found = append(found, l)
		}
	}
	switch {
	case len(found) == 0:
		return unknownModule(module, names)
	case as == "json":
		_, err = c.Out.Write(data.JSON(licenceTree(found)))
	case module == "":
		_, err = fmt.Fprint(c.Out, licenceList(all))
	default:
		_, err = fmt.Fprint(c.Out, licenceWords(found[0]))
	}
	return err
}

func unknownModule(module string, names []string) error {
	hint := "\"trug catalogue licences\" lists them"
	if near := diag.Closest(module, names); near != "" {
		hint = fmt.Sprintf("did you mean %q?", near)
	}
	return usageError{fmt.Sprintf("no module %q is in this program", module), hint}
}

func licenceList(all []licence) string {
	var rows [][]string
	for _, l := range all {
		rows = append(rows, []string{l.module, l.version, l.name})
	}
	return strings.Join(columns(rows), "\n") + "\n\nTexts: \"trug catalogue licences MODULE\", or all with \"--as json\".\n"
}

func licenceWords(l licence) string {
	var b strings.Builder
	for i, t := range l.texts {
		if i > 0 {
			b.WriteString("\n")
		}
		fmt.Fprintf(&b, "%s %s: %s\n\n%s", l.module, l.version, t.file, strings.TrimRight(t.text, "\n")+"\n")
	}
	return b.String()
}

func licenceTree(all []licence) data.Object {
	list := data.List{}
	for _, l := range all {
		texts := data.List{}
		for _, t := range l.texts {
			texts = append(texts, data.Object{{Key: "file", Value: data.Text(t.file)}, {Key: "text", Value: data.Text(t.text)}})
		}
		list = append(list, data.Object{
			{Key: "module", Value: data.Text(l.module)},
			{Key: "version", Value: data.TextOrNull(l.version)},
			{Key: "licence", Value: data.Text(l.name)},
			{Key: "texts", Value: texts},
		})
	}
	return data.Object{{Key: "licences", Value: list}}
}
