package form

import "strings"

// isPlain says that no trap can lie in a line, for nearly all lines at a glance: the shapes of the traps take
// their time. A value that starts with a bracket or a quote must close it at the end of the line; other text holds
// no #, no tab and no second colon.
func isPlain(line string) bool {
	rest := strings.TrimLeft(line, " ")
	if rest == "" || rest[0] == '#' {
		return true
	}
	if rest[0] >= 0x80 || strings.ContainsAny(rest, "#\t") {
		return false
	}
	for strings.HasPrefix(rest, "- ") {
		if rest = strings.TrimLeft(rest[1:], " "); rest == "" {
			return true
		}
	}
	if opens(rest[0]) {
		return closesAtEnd(rest)
	}
	key, value, keyed := strings.Cut(rest, ": ")
	value = strings.TrimLeft(value, " ")
	switch {
	case startsOddly(rest):
		return false
	case !keyed || value == "":
		return true
	case strings.ContainsAny(key, "\"'{[") || startsOddly(value):
		return false
	case opens(value[0]):
		return closesAtEnd(value)
	}
	return !strings.Contains(value, ": ") && !strings.HasSuffix(strings.TrimRight(value, " "), ":")
}

// startsOddly says whether text starts with a sign that YAML keeps for itself.
func startsOddly(s string) bool {
	switch s[0] {
	case '%', '@', '`', '}', ']', ',', '!', '&', '*', '|', '>':
		return true
	case '-', '?':
		return len(s) == 1 || s[1] == ' '
	}
	return false
}

func opens(sign byte) bool { return strings.IndexByte("{[\"'", sign) >= 0 }

// closesAtEnd says whether what opens with the first sign closes with the last, and nowhere before it.
func closesAtEnd(s string) bool {
	end := s[0]
	switch end {
	case '{':
		end = '}'
	case '[':
		end = ']'
	}
	return strings.IndexByte(s[1:], end) == len(s)-2 && len(s) > 1 && !strings.Contains(s, `\`)
}
