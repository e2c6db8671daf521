package data

import "strings"

// Find returns the value at a path as Walk names it: keys and members of lists joined by "/". A path may
// leave "sizes" out and start with the slug of a size: "20-l/cost" is "sizes/20-l/cost".
func Find(root Object, path string) (Value, bool) {
	names := strings.Split(path, "/")
	if v, ok := find(root, names); ok {
		return v, true
	}
	if sizes := root.Get("sizes"); sizes != nil {
		return find(sizes, names)
	}
	return nil, false
}

func find(v Value, names []string) (Value, bool) {
	if len(names) == 0 {
		return v, true
	}
	switch v := v.(type) {
	case Object:
		if inner := v.Get(names[0]); inner != nil {
			return find(inner, names[1:])
		}
	case List:
		for i, name := range memberNames(v) {
			if name == names[0] {
				return find(v[i], names[1:])
			}
		}
	}
	return nil, false
}
