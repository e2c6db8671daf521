package blocktest

import (
	"fmt"
	"maps"
	"math"
	"slices"
)

// Subset compares decoded JSON: every key and value of want must be in got, lists of the same length, and
// numbers equal within 1 in the sixth digit. It returns one line for each difference, with its path.
func Subset(want, got any) []string { return subset("", want, got) }

func subset(path string, want, got any) []string {
	switch want := want.(type) {
	case map[string]any:
		return subsetObject(path, want, got)
	case []any:
		return subsetList(path, want, got)
	case float64:
		if x, ok := got.(float64); ok && Near(want, x) {
			return nil
		}
	default:
		if want == got {
			return nil
		}
	}
	return []string{fmt.Sprintf("%s: want %v, got %v", path, want, got)}
}

func subsetObject(path string, want map[string]any, got any) []string {
	have, ok := got.(map[string]any)
	if !ok {
		return []string{fmt.Sprintf("%s: want an object, got %v", path, got)}
	}
	var out []string
	for _, key := range slices.Sorted(maps.Keys(want)) {
		inner, ok := have[key]
		if !ok {
			out = append(out, fmt.Sprintf("%s/%s: missing", path, key))
			continue
		}
		out = append(out, subset(path+"/"+key, want[key], inner)...)
	}
	return out
}

func subsetList(path string, want []any, got any) []string {
	have, ok := got.([]any)
	if !ok || len(have) != len(want) {
		return []string{fmt.Sprintf("%s: want a list of %d, got %v", path, len(want), got)}
	}
	var out []string
	for i := range want {
		out = append(out, subset(fmt.Sprintf("%s/%d", path, i+1), want[i], have[i])...)
	}
	return out
}

// Near says whether two numbers agree within 1 in the sixth digit of the first. Zero is near nothing else.
func Near(want, got float64) bool {
	if want == 0 {
		return got == 0
	}
	step := math.Pow(10, math.Floor(math.Log10(math.Abs(want)))-5)
	return math.Abs(want-got) <= step*(1+1e-6)
}
