package recipe_test

import (
	"fmt"
	"os"
	"regexp"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/recipe"
)

// courtyard reads the grower's files of the demo handbook and every recipe of its notes, by id.
func courtyard(tb testing.TB) (*garden.Garden, map[string]string) {
	tb.Helper()
	var list diag.List
	content := os.DirFS("../../content")
	g := garden.Open(content, "content", reference.Default(), list.Report)
	require.Zero(tb, list.Faults())
	bodies := map[string]string{}
	fence := regexp.MustCompile("(?s)```recipe ([a-z0-9-]+)\n(.*?)```")
	for _, note := range []string{"tubs/spring-renewal.md", "tubs/leafy-troughs.md", "containers/half-barrels.md", "containers/window-boxes.md"} {
		text, err := os.ReadFile("../../content/" + note)
		require.NoError(tb, err)
		for _, m := range fence.FindAllStringSubmatch(string(text), -1) {
			bodies[m[1]] = m[2]
		}
	}
	return g, bodies
}

// parsed reads the body of a recipe.
func parsed(tb testing.TB, g *garden.Garden, body string) block.Block {
	tb.Helper()
	var list diag.List
	root := form.Read(form.FileSource(diag.NewFile("in.yaml", body), g.Values(), list.Report))
	require.NotNil(tb, root)
	b := recipe.Kind.Parse(root)
	require.Zero(tb, list.Faults())
	return b
}

func spent() float64 {
	var r syscall.Rusage
	_ = syscall.Getrusage(syscall.RUSAGE_SELF, &r)
	return float64(r.Utime.Nano() + r.Stime.Nano())
}

func BenchmarkCompute(b *testing.B) {
	court, bodies := courtyard(b)
	plain := "title: T\nfor: 25 L\ncrop: kale\nplants: 1\namounts:\n  alfalfa-meal: 5 tbsp\n  gypsum: 2 tsp\n  feather-meal: 2 tsp\ntop: {compost: yard-compost, depth: 3 cm}\nsizes: [5 L, 10 L, 20 L, 30 L, 50 L, blue-tub]\n"
	for _, c := range []struct{ name, body string }{{"plain", plain}, {"choice and crop", bodies["spring-tubs"]}} {
		b.Run(c.name, func(b *testing.B) {
			parsed := parsed(b, court, c.body)
			pass := &block.Pass{ID: "one", Ref: reference.Default(), Garden: court, Report: func(diag.Diagnostic) {}}
			b.ReportAllocs()
			start := spent()
			for b.Loop() {
				parsed.Compute(pass)
			}
			b.ReportMetric((spent()-start)/float64(b.N)/1e6, "cpu-ms/op")
		})
	}
	in := goldenInput(b, "golden")
	var list diag.List
	shelf := blocktest.Open(in.Files, &list)
	b.Run("golden", func(b *testing.B) {
		golden := parsed(b, shelf, in.Body)
		pass := &block.Pass{ID: "golden", Ref: reference.Default(), Garden: shelf, Report: func(diag.Diagnostic) {}}
		b.ReportAllocs()
		start := spent()
		for b.Loop() {
			golden.Compute(pass)
		}
		b.ReportMetric((spent()-start)/float64(b.N)/1e6, "cpu-ms/op")
	})
	_ = fmt.Sprint
	_ = strings.Cut
}

func BenchmarkParse(b *testing.B) {
	court, bodies := courtyard(b)
	b.ReportAllocs()
	start := spent()
	for b.Loop() {
		parsed(b, court, bodies["spring-tubs"])
	}
	b.ReportMetric((spent()-start)/float64(b.N)/1e6, "cpu-ms/op")
}

func BenchmarkLoad(b *testing.B) {
	b.ReportAllocs()
	start := spent()
	for b.Loop() {
		_, err := reference.Load()
		require.NoError(b, err)
	}
	b.ReportMetric((spent()-start)/float64(b.N)/1e6, "cpu-ms/op")
}
