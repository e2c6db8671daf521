package reference

import (
	"iter"
	"reflect"
	"slices"
	"strconv"
	"strings"
)

// Figures walks every known figure of the library with a path that names it: those of the typed lists, then
// every number of the fact files as At returns it.
func (l *Library) Figures() iter.Seq2[string, Figure] {
	return func(yield func(string, Figure) bool) {
		more := true
		visit := func(path string, f Figure) {
			more = more && (!f.Known || yield(path, f))
		}
		typed("amendments", reflect.ValueOf(l.Amendments), visit)
		typed("crops", reflect.ValueOf(l.Crops), visit)
		typed("germination", reflect.ValueOf(l.Germination), visit)
		typed("families", reflect.ValueOf(l.Families), visit)
		typed("containers", reflect.ValueOf(l.Containers), visit)
		for _, file := range factFiles {
			at, _ := l.walk(file, nil)
			at.leaves(func(s spot) { visit(strings.Join(append([]string{file}, s.names...), "/"), s.figure()) })
		}
	}
}

// FiguresIn returns every known figure of an amendment or a crop.
func FiguresIn(v any) []Figure {
	var out []Figure
	typed("", reflect.ValueOf(v), func(_ string, f Figure) {
		if f.Known {
			out = append(out, f)
		}
	})
	return out
}

// typed visits every Figure within a value, in the order of the fields.
func typed(path string, v reflect.Value, visit func(string, Figure)) {
	switch v.Kind() {
	case reflect.Pointer:
		typed(path, v.Elem(), visit)
	case reflect.Slice:
		for i := range v.Len() {
			typed(path+"/"+nameIn(v.Index(i), i), v.Index(i), visit)
		}
	case reflect.Map: // of nutrients
		for _, n := range Nutrients {
			if item := v.MapIndex(reflect.ValueOf(n)); item.IsValid() {
				typed(path+"/"+string(n), item, visit)
			}
		}
	case reflect.Struct:
		if f, ok := v.Interface().(Figure); ok {
			visit(path, f)
			return
		}
		for i := range v.NumField() {
			if field := v.Type().Field(i); field.IsExported() {
				typed(path+"/"+field.Name, v.Field(i), visit)
			}
		}
	}
}

func nameIn(v reflect.Value, i int) string {
	for v.Kind() == reflect.Pointer {
		v = v.Elem()
	}
	if v.Kind() == reflect.Struct {
		if id := v.FieldByName("ID"); id.IsValid() {
			return id.String()
		}
	}
	return strconv.Itoa(i)
}

// typedElsewhere lists what the typed lists read from a fact file with rules of their own; At and the walk
// over the files leave it to them.
var typedElsewhere = map[string][]string{
	"amendments": {"amendments"},
	"crops":      {"crops", "realistic_soil_temp_c", "emergence_days"},
	"families":   {"families"},
}

// figureKeys lists the keys of a mapping that make it a figure.
var figureKeys = []string{"low", "high", "typical", "value", "pick"}

// leaves visits every spot below s that may be a figure: numbers, and mappings or lists that are a range.
func (s spot) leaves(visit func(spot)) {
	n := s.node()
	whole := s.numbers().Known
	if whole {
		visit(s)
	}
	switch {
	case n.IsMapping():
		for _, e := range n.Mapping().Entries {
			if !s.skips(e.Name) && !(whole && slices.Contains(figureKeys, e.Name)) {
				s.down(e.Name, e.Value).leaves(visit)
			}
		}
	case n.IsList() && !whole:
		for i, item := range n.Items() {
			s.down(strconv.Itoa(i), item).leaves(visit)
		}
	}
}

// skips says whether a key holds no figures: it is read elsewhere, or is a label.
func (s spot) skips(key string) bool {
	if len(s.names) == 0 {
		return slices.Contains(typedElsewhere[s.file], key)
	}
	return key == "on_sale" // fractions on a label
}
