package builder

import (
	"fmt"
	"os"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/txtar"
	"trug/calcblocks/kit/diag"
)

func TestProbe(t *testing.T) {
	rep := strings.Repeat
	block := func(s string) string { return "# A\n\n```" + s + "\n```\n" }
	sizes := func(n int) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, "%d L, ", i+1)
		}
		return b.String()
	}
	recipe := "recipe tub\ntitle: T\nfor: 20 L\namounts:\n  kelp-meal: 1 cup\n  feather-meal: 2 tbsp\n"
	huge := "999999999999"
	type files map[string]string
	attacks := map[string]files{
		"alias":        {"a.md": block("recipe t\na: &a [x,x]\nb: *a")},
		"deepflow":     {"a.md": block("recipe t\nfor: " + rep("[", 20000) + rep("]", 20000))},
		"deepmap":      {"a.md": block("recipe t\nfor: " + rep("{a: ", 5000) + rep("}", 5000))},
		"deepunclosed": {"a.md": block("recipe t\nfor: " + rep("[", 200000))},
		"flowkeys":     {"a.md": block("recipe t\nfor: {" + rep("a, ", 30000) + "}")},
		"flowkeysml":   {"a.md": block("recipe t\nfor: {" + rep("a,\n ", 30000) + "}")},
		"longlist":     {"a.md": block("recipe t\nsteps:\n" + rep("- a\n", 100000))},
		"badlines":     {"a.md": block("recipe t\n" + rep("a: % x\n", 20000))},
		"tabs":         {"a.md": block("recipe t\n" + rep("\ta: x\n", 20000))},
		"quotes":       {"a.md": block("recipe t\n" + rep("a: \"x\n", 50000))},
		"brackets":     {"a.md": block("recipe t\n" + rep("a: [x\n", 50000))},
		"ind": {"a.md": block("recipe t\n" + func() string {
			var b strings.Builder
			for i := range 1200 {
				b.WriteString(rep(" ", i) + "a:\n")
			}
			return b.String()
		}())},
		"keys": {"a.md": block("recipe t\n" + func() string {
			var b strings.Builder
			for i := range 50000 {
				fmt.Fprintf(&b, "k%d: x\n", i)
			}
			return b.String()
		}())},
		"samekey":     {"a.md": block("recipe t\n" + rep("for: 20 L\n", 50000))},
		"longkey":     {"a.md": block("recipe t\n" + rep("f", 1000000) + ": x\n")},
		"longval":     {"a.md": block("recipe t\nfor: " + rep("9", 1000000) + "\n")},
		"longval2":    {"a.md": block("recipe t\nfor: 1 " + rep("L", 1000000) + "\n")},
		"sizes500":    {"a.md": block(recipe + "sizes: [" + sizes(500) + "]")},
		"sizes5000":   {"a.md": block(recipe + "sizes: [" + sizes(5000) + "]")},
		"sizes100000": {"a.md": block(recipe + "sizes: [" + sizes(100000) + "]")},
		"hugefor":     {"a.md": block(strings.Replace(recipe, "20 L", huge+" cu yd", 1) + "sizes: [20 L]")},
		"hugesize":    {"a.md": block(recipe + "sizes: [" + huge + " cu yd]")},
		"hugeamount":  {"a.md": block(strings.Replace(recipe, "1 cup", huge+" cu yd", 1) + "sizes: [20 L]")},
		"tinyfor":     {"a.md": block(strings.Replace(recipe, "20 L", "0.000000000001 mL", 1) + "sizes: [20 L]")},
		"hugetop":     {"a.md": block(recipe + "top: {compost: yard-compost, volume: " + huge + " cu yd}\nsizes: [20 L]")},
		"hugeplants":  {"a.md": block(recipe + "crop: pepper\nplants: " + huge + "\nsizes: [20 L]")},
		"count":       {"pots.yaml": "a: {holds: 20 L, count: 1000000000}\n"},
		"count500": {"pots.yaml": func() string {
			var b strings.Builder
			for i := range 20 {
				fmt.Fprintf(&b, "p%d: {holds: 20 L, count: 500}\n", i)
			}
			return b.String()
		}()},
		"packs":    {"cupboard.yaml": "kelp-meal:\n  packs: [{holds: 0.001 mg, price: 0.01}, {holds: 7 g, price: 999999999999}]\n", "pots.yaml": "a: {holds: " + huge + " cu yd}\n", "a.md": block(recipe+"sizes: [20 L]") + "\n```plan p\nseason: 2027\npots:\n  a: {recipe: tub}\n```\n\n```shopping\nplan: p\n```\n"},
		"packs2":   {"cupboard.yaml": "kelp-meal:\n  packs: [{holds: 1 g, price: 0.01}, {holds: 7 g, price: 0.08}, {holds: 1.001 g, price: 3}]\n", "pots.yaml": "a: {holds: 10000000 L}\n", "a.md": block(recipe+"sizes: [20 L]") + "\n```plan p\nseason: 2027\npots:\n  a: {recipe: tub}\n```\n\n```shopping\nplan: p\n```\n"},
		"season":   {"a.md": block("plan p\nseason: 999999999\npots: {}\n")},
		"dates":    {"handbook.yaml": "frost: {minima: f.csv}\n", "f.csv": "date,tmin_c\n1700-01-01,1\n2199-12-31,-1\n", "a.md": block("dates\nyear: 9999\ncrops: [pepper]\n")},
		"swap":     {"a.md": block("swap s\nof: " + huge + " cu yd kelp-meal\n")},
		"balance":  {"a.md": block("balance b\nmix: " + huge + " cu yd\ncrop: pepper\nplants: 100000\nfrom: [kelp-meal, feather-meal]\n")},
		"trial":    {"a.md": block("trial t\nmeasure: yield\ngroups:\n  a: [" + rep("999999999999, ", 50000) + "]\n  b: [1, 2, 3]\n")},
		"diary":    {"pots.yaml": "a: {holds: 20 L}\n", "a.md": block("diary\n" + rep("- {on: 2026-01-01, pot: a, did: watered}\n", 10000))},
		"title":    {"a.md": block(strings.Replace(recipe, "title: T", "title: "+rep("T ", 300000), 1))},
		"headings": {"a.md": rep("# a\n\n", 20000)},
		"search":   {"a.md": "# A\n\n" + rep("a b c d e f ", 80000)},
		"weight":   {"a.md": block("weight w\npot: " + huge + " cu yd\n")},
		"vessel":   {"a.md": block("weight w\npot: round " + huge + " yd top 1 mm base " + huge + " yd deep\n")},
		"mix":      {"a.md": block("mix m\nmakes: " + huge + " cu yd\nparts: {peat-moss: 999999999999, perlite: 0.000000000001}\n")},
		"feed":     {"a.md": block("feed f\nproduct: {label: 20-20-20}\nwater: " + huge + " cu yd\nnitrogen: 999999999999 mg/L\n")},
	}
	only := os.Getenv("ONLY")
	for name, f := range attacks {
		if only != "" && !strings.Contains(","+only+",", ","+name+",") {
			continue
		}
		done := make(chan string)
		t.Run(name, func(t *testing.T) {
			a := &txtar.Archive{}
			for n, text := range f {
				a.Files = append(a.Files, txtar.File{Name: n, Data: []byte(text)})
			}
			handbookIn(t, a)
			go func() {
				defer func() {
					if r := recover(); r != nil {
						buf := make([]byte, 3000)
						done <- fmt.Sprintf("%-12s PANIC %v %s", name, r, buf[:runtime.Stack(buf, false)])
					}
				}()
				start := time.Now()
				report, err := Build(Options{Content: "content", Out: "public", Today: today})
				var m runtime.MemStats
				runtime.ReadMemStats(&m)
				first := ""
				for _, d := range report.Diagnostics {
					if d.Severity == diag.Fault || first == "" {
						first = fmt.Sprintf("%.100s", d.Message)
						if d.Severity == diag.Fault {
							break
						}
					}
				}
				size := 0
				_ = size
				done <- fmt.Sprintf("%-12s %8v mem %dM diags %d faults %d err %v: %s", name, time.Since(start).Round(time.Millisecond), m.HeapSys>>20, len(report.Diagnostics), report.Faults, err, first)
			}()
			select {
			case s := <-done:
				fmt.Println(s)
			case <-time.After(40 * time.Second):
				buf := make([]byte, 1<<20)
				buf = buf[:runtime.Stack(buf, true)]
				fmt.Println(name, "TIMEOUT")
				for _, g := range strings.Split(string(buf), "\n\n") {
					if strings.Contains(g, "builder.Build") {
						fmt.Printf("%.2500s\n", g)
					}
				}
				os.Exit(3)
			}
		})
	}
}
