package builder

import (
	"slices"

	"trug/calcblocks/kit/diag"
)

// A proofreader looks for what is doubtful in a handbook that was rendered.
type proofreader struct {
	*rendering
	strict  bool
	remarks []diag.Diagnostic
}

// Proof reads and renders everything, looks for what is doubtful, and writes nothing.
func Proof(o Options) (Report, error) {
	s, err := render(o, nowhere{})
	if err != nil {
		return Report{}, err
	}
	p := &proofreader{rendering: s, strict: o.Strict}
	p.read()
	report := s.report()
	report.Remarks = p.remarks
	return report, nil
}

// nowhere is where the files of a proof go.
type nowhere struct{}

func (nowhere) AddSummed(string, []byte, [32]byte) error { return nil }

// read goes through the handbook. What the blocks computed is looked at only when all could be computed:
// what a fault leaves out would be doubted a second time.
func (p *proofreader) read() {
	whole := p.Faults() == 0
	p.prices()
	p.leaving()
	p.unusedPictures()
	p.promises()
	p.unrevised()
	p.outward()
	if whole {
		p.recipesWithout()
		p.sourceless()
		p.fromMemory()
		p.recipesWithoutNeed()
	}
}

// doubt reports what stops nothing.
func (p *proofreader) doubt(at diag.Position, code, hint, format string, args ...any) {
	d := diag.Errorf(at, code, format, args...).Hint("%s", hint)
	d.Severity = diag.Doubt
	p.Report(d)
}

// grave reports what is a doubt, and a fault when the proof is strict.
func (p *proofreader) grave(at diag.Position, code, hint, format string, args ...any) {
	d := diag.Errorf(at, code, format, args...).Hint("%s", hint)
	if !p.strict {
		d.Severity = diag.Doubt
	}
	p.Report(d)
}

func (p *proofreader) remark(at diag.Position, code, hint, format string, args ...any) {
	d := diag.Errorf(at, code, format, args...).Hint("%s", hint)
	d.Severity = diag.Remark
	p.remarks = append(p.remarks, d)
}

// published returns the blocks that stand somewhere on the site.
func (p *proofreader) published() []*Placed {
	return slices.DeleteFunc(slices.Clone(p.Blocks), func(b *Placed) bool { return !b.visible() })
}
