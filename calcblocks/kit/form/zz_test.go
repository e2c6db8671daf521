package form
import ("testing";"fmt";"strings";"trug/calcblocks/kit/diag";"trug/calcblocks/kit/units"
)
func dump(n *Node) string { switch { case n==nil: return "nil"
 case n.IsMapping(): s:="{"; for _,e:=range n.Mapping().Entries { s+=e.Name+"="+dump(e.Value)+"; "}; return s+"}"
 case n.IsList(): s:="["; for _,e:=range n.Items() { s+=dump(e)+" | "}; return s+"]"
 }; t,_:=n.Text(); return fmt.Sprintf("%q",t)}
func TestZZ(t *testing.T){
 for _,c:=range strings.Split(strings.TrimPrefix(cases,"\n"),"\n=\n"){
  var l diag.List
  f:=diag.NewFile("b",c)
  n:=Read(FileSource(f,units.Parser{Set:units.US},l.Report))
  v:=dump(n)
  fmt.Println("-----\n"+c); fmt.Println("=>",v)
  for _,d:=range l.Sorted(){ fmt.Printf("   %d:%d %s | %s | %s",d.At.Line,d.At.Column,d.Code,d.Message,strings.Join(d.Hints,"; ")); for _,r:=range d.Related{fmt.Printf(" | %d:%d %s",r.At.Line,r.At.Column,r.Message)}; fmt.Println() }
 }
}
const cases=`
a: &x 1
b: *x
=
base: &base
  a: 1
b:
  <<: *base
=
b:
  <<: {a: 1}
=
a: !!str 5
=
a: !mine 5
=
steps: [&x one, *x]
=
- &x one
- *x
=
a: 1
b: 2
a: 3
=
a: {b: 1, c: 2, b: 3}
=
a: 1
---
b: 2
=
---
a: 1
=
a: 1
...
b: 2
=
a: 1
...
=
a: 1
---
=
  a: 1
  b: 2
 c: 3
=
  a: 1
c: 3
=
a:
  b: 1
 c: 2
=
a:
  b: 1
    c: 2
=
a: 1
  b: 2
=
a:
	b: 1
=
a: 1
 	b: 1
=
packs: [{holds: 2,5 kg, price: 4.50}]
=
packs: [{holds: 2 kg, price: 4,50}]
=
a: {text: wet, then dry, n: 1}
=
steps: [Mix well, then wait, Water]
=
a: %b
=
a: @b
=
a: ` + "`" + `b` + "`" + `
=
a: !b c
=
a: &b c
=
a: *b* c
=
a: > b
=
a: >b
=
a: | b
=
a: |b
=
a: [b] c
=
a: {b} c
=
a: [b
=
a: {b: 1
=
a: {b: 1
c: 2
=
a: [b, c
d: 3
=
steps:
  - %b
  - @b
  - ` + "`" + `b` + "`" + `
  - !b c
  - &b c
  - *b
  - > b
  - | b
  - [b] c
  - {b} c
=
a: one: two
=
a: see this: two
=
steps:
  - Mix: then wait
  - Water
=
steps:
  - Mix well: then wait a bit
=
a: one # two
=
a: pot #3
=
a: one  # a comment
=
a: one	# a comment
=
# a comment
a: 1
  # another
b: 2
=
a: "one # two: three"
b: 'one # two: three'
=
a: "it's" # note
=
a: "one" two
=
a:
b: 2
=
a: ""
=
a: ''
b: ~
c: null
=
a: 012
b: 1_000
c: yes
d: 1:2
e: 0x10
f: 1e3
g: .5
h: 2027-04-12
i: true
j: 1.0
=
a: "open
b: 2
=
a: 'open
b: 2
=
a: don't
b: 'it''s'
=
a: "x \d y"
=
a: |
  one: two # three
  % @ ` + "`" + ` ! &
   * > | [ {
b: >
  folded: text
  # no comment
c: 1
=
steps:
  - |
    one: two
    &x
  - >-
    folded * text
=
a: |2
   x: y
b: 1
=
a: b
c
=
just text
=
- a
b: 1
=
a: 1
- b
=
a: -5 g
=
a: - b
=
a: ? b
=
? a
: b
=
1: b
yes: c
=
[a, b]: c
=
a : 1
=
a:1
=
a: 1
b:2
=
"a": 1
'b': 2
a: 3
=
a: one,
  two
=
a: text that goes
  on here: oops
=
a: {b: {c: 1, d: 2}, e: [1, 2,5]}
=
a: [1,5 kg, 2]
=
a: [one: two, three]
=
a: {b:1}
=
a: {b: c: d}
=
a: {b: x # y
}
=
title: Mix # 3
=
rate: 3 g/L	
=
a: 50 % of it
=
a: b: c # d
=
potash, one of:
  kelp: 1 cup
=
"potash: one": 1
=
a: http://x.example/#top
=
a: 5:30
=
a: b]
=
a: b}
=
a: }
=
a: ]
=
a: ,b
=
a: "b",
=
a: --- 
=
---
=

=
# only a comment
=
a: x\ny
=
a: [
  one,
  two: three
]
=
a:
  - b
 - c
=
a:
  b: 1
  b: 2
c:
  b: 1
=
key with # hash: 1
=
a: €: x
=
größe: übel: x
=
a: |
	tab content
b: 1
=
- on: 2027-04-12
  pot: x
  note: Wet: dry
=
a: >
b: 2
=
a: <b
=
a: ~b
=
a: =b
=
a: -
=
a: ?b
=
a: :b
=
a:: b
=
a: b:
=
steps:
  - Water:
  - x
=
a: "b" # c
d: 'e'# f
=
a: 1	b
`
