// Package data holds a block's result as an ordered tree of named values: what JSON, CSV, figure links
// and the stamp are made of. Numbers are unrounded; units stand in the names.
package data

import (
	"math"
	"strconv"
)

// A Value is an Object, a List, a Number, a Text, a Flag or Null.
type Value interface{ value() }

// Number is a plain number in the unit that its key names.
type Number float64

// Text is text.
type Text string

// Flag is true or false.
type Flag bool

// Null means not known or not computed; never zero.
type Null struct{}

// List is a list of values.
type List []Value

// Object is an ordered set of named values.
type Object []Field

// Field is a named value of an Object.
type Field struct {
	Key   string
	Value Value
}

func (Number) value() {}
func (Text) value()   {}
func (Flag) value()   {}
func (Null) value()   {}
func (List) value()   {}
func (Object) value() {}

// Get returns the value under key, or nil.
func (o Object) Get(key string) Value {
	for _, f := range o {
		if f.Key == key {
			return f.Value
		}
	}
	return nil
}

// With returns the object with key set to v, in place when it is there and last when it is not.
func (o Object) With(key string, v Value) Object {
	for i := range o {
		if o[i].Key == key {
			out := append(Object(nil), o...)
			out[i].Value = v
			return out
		}
	}
	return append(o[:len(o):len(o)], Field{key, v})
}

// Texts turns words into a list.
func Texts(words []string) List {
	out := make(List, len(words))
	for i, w := range words {
		out[i] = Text(w)
	}
	return out
}

// Pair is {low, high}.
func Pair(low, high float64) Object {
	return Object{{"low", Number(low)}, {"high", Number(high)}}
}

// Six rounds to six significant digits, the precision of every printed number. It goes by the decimal
// text: scaling by a power of ten would leave digits behind, such as 12345699999.999998.
func Six(x float64) float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return x
	}
	y, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'e', 5, 64), 64) // a finite number reads back
	return y
}

// TextOrNull is a text, or Null when there is none.
func TextOrNull(s string) Value {
	if s == "" {
		return Null{}
	}
	return Text(s)
}
