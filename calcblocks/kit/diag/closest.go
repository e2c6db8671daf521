package diag

import (
	"slices"
	"strconv"
	"strings"
)

// Meant returns the ids that one may mean, in quotes: one that a slip turned into it, else up to three that have it for
// a word of their own, as "compost" is of "yard-compost". "" where there is none.
func Meant(id string, ids []string) string {
	if slip := Closest(id, ids); slip != "" {
		return strconv.Quote(slip)
	}
	var out []string
	for _, other := range ids {
		if len(out) < 3 && slices.Contains(strings.Split(other, "-"), id) {
			out = append(out, strconv.Quote(other))
		}
	}
	return strings.Join(out, " or ")
}

// Closest returns the candidate that a slip of the hand turns into word, or "" when none is near: at
// most two letters off, one for short words, and never all of the word. Swapped neighbours count as one.
func Closest(word string, candidates []string) string {
	best, limit := "", 2
	if len(word) <= 4 {
		limit = 1
	}
	letters := []rune(word)
	for _, c := range candidates {
		other := []rune(c)
		if apart := len(other) - len(letters); apart > limit || -apart > limit {
			continue
		}
		if d := distance(letters, other); d > 0 && d <= limit && d < len(letters) {
			best, limit = c, d-1
		}
	}
	return best
}

// distance is the optimal string alignment distance (Damerau 1964, restricted).
func distance(a, b []rune) int {
	rows := make([][]int, len(a)+1)
	for i := range rows {
		rows[i] = make([]int, len(b)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(a); i++ {
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			rows[i][j] = min(rows[i-1][j]+1, rows[i][j-1]+1, rows[i-1][j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				rows[i][j] = min(rows[i][j], rows[i-2][j-2]+1)
			}
		}
	}
	return rows[len(a)][len(b)]
}
