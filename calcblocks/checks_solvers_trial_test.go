package calcblocks_test

import (
	"encoding/csv"
	"fmt"
	"math/big"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/trial"
)

var trialSolvers = []solver{
	{"statistics", "first second", "mean n sd", func(q question) answers {
		group := fmt.Sprintf("groups/%s/", []string{"first", "second"}[q.i])
		return q.tried(twoSamples(q), map[string]string{"mean": group + "mean", "n": group + "n", "sd": group + "sd"})
	}},
	{"statistics", "first second", "df t", func(q question) answers {
		return q.tried(twoSamples(q), map[string]string{"df": "df", "t": "t"})
	}},
	{"statistics", "first second", "difference interval_95 p_one_sided p_two_sided standard_error", func(q question) answers {
		out := q.tried(twoSamples(q), map[string]string{"difference": "difference", "p_two_sided": "p", "standard_error": "standard_error", "interval_95": q.end("interval")})
		out["p_one_sided"] = number(out["p_two_sided"].float() / 2) // the difference lies to the side that is asked
		return out
	}},
	{"statistics", "first second", "df interval_95 p_two_sided pooled_sd t", func(q question) answers {
		first, second := trial.Summarise(q.sample("first")), trial.Summarise(q.sample("second"))
		return q.pooled(first, second)
	}},
	{"statistics", "df one_sided_level", "critical_t", func(q question) answers {
		return answers{"critical_t": number(trial.CriticalT(q.plain("df"), 1-2*q.plain("one_sided_level")))}
	}},
	{"statistics", "mean n sd", "df p_one_sided t", func(q question) answers {
		first, second := q.summaries()
		if df := q.c.expect["df"].values[0]; df == fmt.Sprint(first.N+second.N-2) {
			return q.pooled(first, second) // whole degrees of freedom: spreads taken for equal
		}
		return q.compared(trial.Welch(first, second, 0.95))
	}},
	{"statistics", "mean n sd", "df difference interval_95 p_two_sided pooled_sd t", func(q question) answers {
		return q.pooled(q.summaries())
	}},
	{"statistics", "mean n sd", "pooled_sd", func(q question) answers { return q.pooled(q.summaries()) }},
	{"statistics", "mean n sd", "df interval_95 p_two_sided t", func(q question) answers {
		first, second := q.summaries()
		return q.compared(trial.Welch(first, second, 0.95))
	}},
	{"statistics", "confidence mean n sd", "half_width interval t", func(q question) answers {
		s, level := trial.Sample{N: int(q.plain("n")), Mean: q.plain("mean"), SD: q.plain("sd")}, q.plain("confidence")
		low, high := trial.MeanInterval(s, level)
		if q.high {
			low, high = high, low
		}
		return answers{"t": number(trial.CriticalT(float64(s.N-1), level)), "half_width": number(max(high-low, low-high) / 2), "interval": number(low)}
	}},
	{"statistics", "n", "verdict", func(q question) answers {
		body := "groups:\n"
		for i, n := range q.c.given["n"].values {
			pots := float(exact(q.t, n))
			body += fmt.Sprintf("  group %d: [%s]\n", i+1, strings.Join(strings.Fields(strings.Repeat("1 ", int(pots))), ", "))
		}
		return answers{"verdict": ofText(string(try(q, body).Find("verdict").(data.Text)))}
	}},
}

// openTrialSolvers answer the checks on trials in open data, which lie in the folder of TRUG_CHECKS alone.
func openTrialSolvers() []solver {
	folder := os.Getenv("TRUG_CHECKS")
	if _, err := os.Stat(filepath.Join(folder, "open-data.yaml")); err != nil || folder == "" {
		return nil
	}
	const given, figures = "file group_column groups value_column", "df difference interval_95 mean n p_two_sided sd standard_error t"
	return []solver{
		{"open-data", given, figures, openTrial},
		{"open-data", given, figures + " verdict_given", func(q question) answers {
			out := openTrial(q)
			verdict := string(try(q, openBody(q)).Find("verdict").(data.Text))
			out["verdict_given"] = ofFlag(!strings.HasPrefix(verdict, "no verdict"))
			return out
		}},
	}
}

func openTrial(q question) answers {
	group := fmt.Sprintf("groups/%s/", data.Slug(q.text("groups")))
	return q.tried(openBody(q), map[string]string{
		"df": "df", "difference": "difference", "interval_95": q.end("interval"), "p_two_sided": "p", "standard_error": "standard_error", "t": "t",
		"mean": group + "mean", "n": group + "n", "sd": group + "sd",
	})
}

// openBody writes a trial of two groups of a data file.
func openBody(q question) string {
	rows := table(q.t, filepath.Join(os.Getenv("TRUG_CHECKS"), q.text("file")))
	body := "groups:\n"
	for _, name := range q.c.given["groups"].values {
		body += fmt.Sprintf("  %q: [%s]\n", name, strings.Join(column(q.t, rows, q.text("value_column"), q.text("group_column"), name), ", "))
	}
	return body
}

// table reads a data file: lines of remarks, then a head, then rows.
func table(t testing.TB, name string) [][]string {
	file, err := os.Open(name)
	require.NoError(t, err)
	defer file.Close()
	r := csv.NewReader(file)
	r.Comment = '#'
	rows, err := r.ReadAll()
	require.NoError(t, err)
	return rows
}

// column returns the values of a column in the rows whose other column holds a word.
func column(t testing.TB, rows [][]string, values, where, word string) []string {
	at, by := slices.Index(rows[0], values), slices.Index(rows[0], where)
	require.True(t, at >= 0 && by >= 0)
	var out []string
	for _, row := range rows[1:] {
		if row[by] == word && row[at] != "" {
			out = append(out, row[at])
		}
	}
	return out
}

func twoSamples(q question) string {
	list := func(name string) string { return strings.Join(q.c.given[name].values, ", ") }
	return "groups:\n  first: [" + list("first") + "]\n  second: [" + list("second") + "]\n"
}

// try computes a trial without a fault.
func try(q question, body string) blocktest.Output {
	q.t.Helper()
	out := blocktest.Compute(trial.Kind, blocktest.Input{ID: "check", Body: body})
	require.Empty(q.t, out.Printed(), body)
	return out
}

// tried computes a trial and answers outputs with the figures at paths of its data, in the units expected.
func (q question) tried(body string, paths map[string]string) answers {
	q.t.Helper()
	got := try(q, body)
	out := answers{}
	for name, path := range paths {
		s, x := q.scale(q.c.expect[name]), rational(got.Number(path))
		out[name] = ratIn(s.dimension, x.Mul(x, s.factor))
	}
	return out
}

// end returns the path of the end of a range that is asked for.
func (q question) end(path string) string {
	if q.high {
		return path + "/high"
	}
	return path + "/low"
}

func (q question) sample(name string) []*big.Rat {
	var out []*big.Rat
	for _, v := range q.c.given[name].values {
		out = append(out, exact(q.t, v))
	}
	return out
}

// summaries returns the two samples of a check that gives n, mean and SD, whatever the step.
func (q question) summaries() (first, second trial.Sample) {
	of := func(i int) trial.Sample {
		q.i = i
		return trial.Sample{N: int(q.plain("n")), Mean: q.plain("mean"), SD: q.plain("sd")}
	}
	return of(0), of(1)
}

func (q question) compared(c trial.Comparison) answers {
	end := c.Low
	if q.high {
		end = c.High
	}
	return answers{"difference": number(c.Difference), "df": number(c.DF), "t": number(c.T), "p_two_sided": number(c.P), "p_one_sided": number(c.P / 2), "interval_95": number(end)}
}

func (q question) pooled(first, second trial.Sample) answers {
	c, sd := trial.Pooled(first, second, 0.95)
	out := q.compared(c)
	out["pooled_sd"] = number(sd)
	return out
}

func (a answer) float() float64 { return float(a.values[0]) }

// TestMaizeInPairs: Darwin's pots of cross- and self-fertilised maize, pair by pair. Fisher (The Design of
// Experiments, 1935, section 17) found t = 2.148 on 14 degrees of freedom, just above 2.145.
func TestMaizeInPairs(t *testing.T) {
	name := filepath.Join(os.Getenv("TRUG_CHECKS"), "data", "maize-in-pots.csv")
	if _, err := os.Stat(name); err != nil {
		t.Skip("needs the data files of the folder of TRUG_CHECKS")
	}
	rows := table(t, name)
	body := "paired: yes\nunit: in\ngroups:\n"
	for _, group := range []string{"cross", "self"} {
		body += "  " + group + ": [" + strings.Join(column(t, rows, "height_in", "treatment", group), ", ") + "]\n"
	}
	out := blocktest.Compute(trial.Kind, blocktest.Input{ID: "maize", Body: body})
	require.Empty(t, out.Printed())
	assert.EqualValues(t, 14, out.Number("df"))
	assert.InDelta(t, 2.148, out.Number("t"), 0.0005)
	assert.InDelta(t, 2.145, trial.CriticalT(14, 0.95), 0.0005)
	assert.EqualValues(t, "only just shown", out.Find("verdict"))
}
