package schema

import (
	"slices"

	"trug/calcblocks/kit/data"
)

// schema returns the shape as JSON Schema; an open one is true.
func (s *shape) schema() data.Value {
	var forms data.List
	if s.text != nil {
		forms = append(forms, s.text.schema())
	}
	if s.list != nil {
		forms = append(forms, data.Object{{Key: "type", Value: data.Text("array")}, {Key: "items", Value: s.list.item.schema()}})
	}
	if s.mapping != nil {
		forms = append(forms, s.mapping.schema())
	}
	switch {
	case s.open && s.about == "":
		return data.Flag(true)
	case s.open:
		return s.described(nil)
	case len(forms) == 1:
		return s.described(object(forms[0]))
	}
	return s.described(anyOf(forms))
}

// described puts what the author is told in front.
func (s *shape) described(body data.Object) data.Object {
	if s.about == "" {
		return body
	}
	rest := slices.DeleteFunc(slices.Clone(body), func(f data.Field) bool { return f.Key == "description" })
	return append(data.Object{{Key: "description", Value: data.Text(s.about)}}, rest...)
}

func object(v data.Value) data.Object {
	if o, ok := v.(data.Object); ok {
		return o
	}
	return nil // true: nothing to add
}

func anyOf(forms data.List) data.Object { return data.Object{{Key: "anyOf", Value: forms}} }

// schema returns a text: whatever a YAML library makes of a scalar, the readers take it as it is written.
func (t *text) schema() data.Object {
	out := data.Object{{Key: "type", Value: data.Texts([]string{"string", "number", "boolean"})}}
	if t.hint != "" {
		out = append(out, data.Field{Key: "description", Value: data.Text(t.hint)})
	}
	if len(t.samples) > 0 {
		out = append(out, data.Field{Key: "examples", Value: data.Texts(t.samples)})
	}
	return out
}

func (m *mappingShape) schema() data.Object {
	out := data.Object{{Key: "type", Value: data.Text("object")}}
	if m.open {
		return out
	}
	if m.free != nil {
		if len(m.shapes) > 0 {
			out = append(out, data.Field{Key: "patternProperties", Value: members(m.shapes, m.shaped)})
		}
		return append(out, data.Field{Key: "additionalProperties", Value: m.free.schema()})
	}
	out = append(out, data.Field{Key: "properties", Value: members(m.keys, m.values)}, data.Field{Key: "additionalProperties", Value: data.Flag(false)})
	return append(out, m.rules()...)
}

func members(names []string, shapes map[string]*shape) data.Object {
	out := data.Object{}
	for _, name := range names {
		out = append(out, data.Field{Key: name, Value: shapes[name].schema()})
	}
	return out
}

// rules returns what is required, what needs what, and what does not go together.
func (m *mappingShape) rules() data.Object {
	var required []string
	var all data.List
	for _, need := range m.needs {
		if len(need) == 1 && !slices.Contains(required, need[0]) {
			required = append(required, need[0])
		}
		if len(need) > 1 {
			all = append(all, oneOrMore(need))
		}
	}
	var beside data.Object
	for _, d := range m.with {
		if len(d.needs) == 1 {
			beside = beside.With(d.key, append(listed(beside.Get(d.key)), data.Text(d.needs[0])))
			continue
		}
		all = append(all, data.Object{{Key: "if", Value: requires(d.key)}, {Key: "then", Value: oneOrMore(d.needs)}})
	}
	for _, pair := range m.between {
		all = append(all, data.Object{{Key: "not", Value: requires(pair[:]...)}})
	}
	var out data.Object
	if len(required) > 0 {
		out = requires(required...)
	}
	if len(beside) > 0 {
		out = append(out, data.Field{Key: "dependentRequired", Value: beside})
	}
	if len(all) > 0 {
		out = append(out, data.Field{Key: "allOf", Value: all})
	}
	return out
}

func listed(v data.Value) data.List {
	l, _ := v.(data.List)
	return l
}

func requires(keys ...string) data.Object {
	return data.Object{{Key: "required", Value: data.Texts(keys)}}
}

func oneOrMore(keys []string) data.Object {
	if len(keys) == 1 {
		return requires(keys...)
	}
	var each data.List
	for _, key := range keys {
		each = append(each, requires(key))
	}
	return anyOf(each)
}
