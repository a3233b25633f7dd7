package policy

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/rego"
	"github.com/open-policy-agent/opa/v1/topdown"

	"backpitch/engine/facts"
	"backpitch/engine/finding"
	"backpitch/engine/limit"
	"backpitch/engine/profile"
)

// Verdict is the one answer of a rule for a subject.
type Verdict struct {
	Rule    string
	Subject string
	Outcome finding.Outcome
	// Op is the function of lib.judge that answered: at_least, at_most,
	// above, between, same, one_of, in_order, none, person_decides, not_required; ""
	// for open without a verdict.
	Op string
	// Measured and Limit are nil, int64, bool, string, []string or []int64;
	// the limit of between is []int64 of low and high.
	Measured any
	Limit    any
	Detail   string
	Range    []int64  // low and high end of the measured value; nil where it is exact
	Missing  []string // of open: facts and table entries that are not there
	Figures  []Figure // given beforehand by a process apart; ask RestsOn

	rule  *module
	under *profile.Profile
	facts ast.Value // the subject
	input ast.Value
	shown map[string]any // the facts of it that came from another process
}

// Fact returns a fact of the subject by its dotted path, as int64, bool,
// string or []string; false where the subject has none. A path that begins
// with building or project leads there.
func (v *Verdict) Fact(path string) (any, bool) {
	if v.facts == nil {
		value, ok := v.shown[path]
		return value, ok
	}
	return factAt(v.facts, v.input, path)
}

// RestsOn returns the profile's figures that it rests on. They are looked up
// when somebody asks: most verdicts pass, and nobody does.
func (v *Verdict) RestsOn() []Figure {
	if v.facts == nil {
		return v.Figures
	}
	figures, _ := v.rule.figures(v.under, v.Fact)
	return figures
}

func factAt(subject, input ast.Value, path string) (any, bool) {
	if t := termAt(subject, input, path); t != nil {
		return goValue(t)
	}
	return nil, false
}

// termAt is nil where there is nothing at the path.
func termAt(subject, input ast.Value, path string) *ast.Term {
	at := subject
	if strings.HasPrefix(path, "building.") || strings.HasPrefix(path, "project.") {
		at = input
	}
	var t *ast.Term
	for more := true; more; {
		o, ok := at.(ast.Object)
		if !ok {
			return nil
		}
		var part string
		part, path, more = strings.Cut(path, ".")
		if t = o.Get(ast.InternedTerm(part)); t == nil {
			return nil
		}
		at = t.Value
	}
	return t
}

// Judge evaluates every adopted rule on the facts and returns the verdicts
// sorted by rule and subject. A broken rule is an error, [*Error] or [Errors],
// and no verdict is returned. Judge stops at the deadline of the context.
func (out *Prepared) Judge(ctx context.Context, f *facts.Facts) ([]Verdict, error) {
	return out.judge(ctx, valueOf(f))
}

func (out *Prepared) judge(ctx context.Context, input ast.Value) ([]Verdict, error) {
	if err := ctx.Err(); err != nil {
		return nil, stopped(err)
	}
	run, end, err := out.begin(ctx, input)
	if err != nil {
		return nil, err
	}
	defer end()
	r := newReading(out.profile, input)
	for _, id := range out.ids {
		m := out.modules[id]
		if hasNone(input, m.groups) {
			continue
		}
		row, err := run.row(ctx, m)
		switch {
		case err != nil && (ctx.Err() != nil || topdown.IsCancel(err)):
			return nil, stopped(cmp.Or(ctx.Err(), err))
		case err != nil:
			return nil, out.blame(ctx, input, err)
		case row == nil:
			return nil, &Error{Rule: id, File: m.File, Message: "the rule gave no result"}
		case !r.rule(m, row):
			return nil, out.blame(ctx, input, errTwoAnswers)
		}
	}
	if err := r.problems.sorted(); err != nil {
		return nil, err
	}
	return r.list, nil
}

var errTwoAnswers = errors.New("a rule gives two answers for one subject")

func stopped(err error) *Error {
	return &Error{Message: "the rules were stopped before they finished: " + err.Error(),
		Hint: "look for a rule that loops over pairs of elements; " + limit.Time.Hint(), cause: err}
}

// eval runs a query and returns its one value as OPA has it, unconverted.
func eval(ctx context.Context, q rego.PreparedEvalQuery, input ast.Value) (ast.Value, error) {
	raw := func(t *ast.Term, _ *rego.EvalContext) (any, error) { return t.Value, nil }
	rs, err := q.Eval(ctx, rego.EvalParsedInput(input), rego.EvalGenerateJSON(raw))
	if err != nil || len(rs) == 0 {
		return nil, err
	}
	v, _ := rs[0].Expressions[0].Value.(ast.Value)
	return v, nil
}

// reading takes what the query gave apart.
type reading struct {
	profile  *profile.Profile
	input    ast.Value
	list     []Verdict
	problems Errors
	answers  map[string]*ast.Term // of one rule, by subject
}

func newReading(p *profile.Profile, input ast.Value) *reading {
	return &reading{profile: p, input: input, answers: map[string]*ast.Term{}}
}

// rule pairs a rule's subjects with its verdicts.
func (r *reading) rule(m *module, row *ast.Array) bool {
	about, ok := row.Elem(0).Value.(ast.Object)
	if !ok {
		r.problems = append(r.problems, m.broken(nil, "subject is not an object"))
		return true
	}
	clear(r.answers)
	for i := 1; i < row.Len(); i++ {
		if ok := r.take(m, about, row.Elem(i)); !ok {
			return false
		}
	}
	from := len(r.list)
	about.Foreach(func(key, subject *ast.Term) {
		id, ok := key.Value.(ast.String)
		if !ok {
			r.problems = append(r.problems, m.broken(key, "a subject is named by %s, not by its id", key))
			return
		}
		r.list = append(r.list, Verdict{Rule: m.ID, Subject: string(id), rule: m, under: r.profile, facts: subject.Value, input: r.input})
		v := &r.list[len(r.list)-1]
		if answer := r.answers[string(id)]; answer != nil {
			if why := v.read(answer); why != "" {
				r.problems = append(r.problems, m.broken(key, "the verdict for %q is not one of lib.judge: %s", string(id), why))
				return
			}
		}
		v.settle()
	})
	slices.SortFunc(r.list[from:], func(a, b Verdict) int { return cmp.Compare(a.Subject, b.Subject) })
	return true
}

// take notes the answers of one body of verdict, or those of all bodies where
// they come as an object; it returns false where a subject has two.
func (r *reading) take(m *module, about ast.Object, given *ast.Term) bool {
	alone := true
	add := func(key, answer *ast.Term) {
		id, isText := key.Value.(ast.String)
		switch known := r.answers[string(id)]; {
		case about.Get(key) == nil:
			r.problems = append(r.problems, m.broken(key, "the rule gives a verdict for %s, which is not among its subjects", key))
		case !isText: // the subject itself is refused
		case known == nil:
			r.answers[string(id)] = answer
		default:
			alone = alone && known.Equal(answer)
		}
	}
	switch given := given.Value.(type) {
	case *ast.Array:
		given.Foreach(func(pair *ast.Term) {
			p := pair.Value.(*ast.Array)
			add(p.Elem(0), p.Elem(1))
		})
	case ast.Object:
		given.Foreach(add)
	default:
		r.problems = append(r.problems, m.broken(nil, "verdict is not an object"))
	}
	return alone
}

// settle turns silence, and a pass on facts that are missing, into open.
func (v *Verdict) settle() {
	if v.Outcome != "" && (v.Outcome != finding.Pass || v.Op == "not_required") {
		return
	}
	for _, need := range v.rule.Needs {
		if !v.has(need) {
			v.Missing = append(v.Missing, need)
		}
	}
	switch {
	case v.Outcome == "":
		v.Outcome = finding.Open
		_, gaps := v.rule.figures(v.under, v.Fact)
		v.Missing = append(v.Missing, gaps...)
		if len(v.Missing) == 0 {
			v.Missing = v.rule.absent(v)
		}
		if len(v.Missing) == 0 {
			v.Missing = []string{"the rule gives no answer for these facts"}
		}
	case len(v.Missing) > 0:
		// The rule passed over something it says it needs.
		v.Outcome = finding.Open
	}
}

// has is what Fact says of whether it is there, without making the value.
func (v *Verdict) has(path string) bool {
	if t := termAt(v.facts, v.input, path); t != nil {
		switch t.Value.(type) {
		case ast.String, ast.Boolean:
			return true
		}
		_, ok := goValue(t)
		return ok
	}
	return false
}

// absent returns the facts that the rule looks at and the subject lacks.
func (m *module) absent(v *Verdict) []string {
	var out []string
	for _, name := range m.looks {
		if _, ok := v.Fact(name); !ok {
			out = append(out, name)
		}
	}
	return out
}

// text is a text, "" for anything else.
func text(t *ast.Term) string {
	s, _ := t.Value.(ast.String)
	return string(s)
}

// ops are the functions of lib.judge; true where the verdict compares.
var ops = map[string]bool{"at_least": true, "at_most": true, "above": true, "between": true, "same": true, "one_of": true,
	"in_order": true, "none": true, "person_decides": false, "not_required": false}

// read takes a verdict over; it returns why it is none.
func (v *Verdict) read(t *ast.Term) string {
	o, ok := t.Value.(ast.Object)
	if !ok {
		return fmt.Sprintf("%s is not an object", t)
	}
	why, read := "", 0
	take := func(key *ast.Term, as func(value *ast.Term) bool) {
		if value := o.Get(key); value != nil {
			if read++; !as(value) {
				why = fmt.Sprintf("%s is %s", word(key.Value), value)
			}
		}
	}
	plain := func(to *any) func(*ast.Term) bool {
		return func(value *ast.Term) (shown bool) { *to, shown = goValue(value); return shown }
	}
	take(keyDetail, func(value *ast.Term) bool {
		text, isText := value.Value.(ast.String)
		v.Detail = string(text)
		return isText
	})
	take(keyLimit, plain(&v.Limit))
	take(keyMeasured, plain(&v.Measured))
	take(keyOp, func(value *ast.Term) bool { v.Op = text(value); return true })
	take(keyOutcome, func(value *ast.Term) bool { v.Outcome = finding.Outcome(text(value)); return true })
	take(keyRange, func(value *ast.Term) bool {
		ends, _ := goValue(value)
		v.Range, _ = ends.([]int64)
		return len(v.Range) == 2
	})
	if read < o.Len() {
		o.Foreach(func(key, value *ast.Term) {
			switch word(key.Value) {
			case "detail", "limit", "measured", "op", "outcome", "range":
			default:
				why = fmt.Sprintf("%s is %s", word(key.Value), value)
			}
		})
	}
	compares, known := ops[v.Op]
	switch {
	case why != "":
		return why
	case !known:
		return fmt.Sprintf("op is %q", v.Op)
	case compares && (v.Measured == nil || v.Limit == nil):
		return "measured or limit is missing"
	case v.Outcome != finding.Pass && v.Outcome != finding.Fail && v.Outcome != finding.PersonDecides:
		return fmt.Sprintf("outcome is %q", v.Outcome)
	}
	return ""
}

func (m *module) broken(_ *ast.Term, format string, args ...any) *Error {
	e := &Error{Rule: m.ID, File: m.File, Message: fmt.Sprintf(format, args...)}
	name := "verdict"
	if strings.HasPrefix(e.Message, "a subject") || strings.HasPrefix(e.Message, "subject") {
		name = "subject"
	}
	for _, r := range m.parsed.Rules {
		if word(r.Head.Ref()[0].Value) == name {
			e.Line, e.Col = r.Location.Row, r.Location.Col
			break
		}
	}
	return e
}

// blame finds the rule, and where it can the subject, that broke the query:
// one broken rule ends the evaluation of all.
func (out *Prepared) blame(ctx context.Context, input ast.Value, cause error) error {
	if out.compiled {
		return fromEval(cause, "", "") // Only the sources can tell more.
	}
	compiler, err := out.asWritten()
	if err != nil {
		return fromEval(cause, "", "")
	}
	var problems Errors
	for _, id := range out.ids {
		m := out.modules[id]
		for _, name := range []string{"subject", "verdict"} {
			q, err := out.prepare(ctx, compiler, ruleRef(id)+"."+name)
			if err == nil {
				_, err = eval(ctx, q, input)
			}
			switch {
			case err == nil:
				continue
			case ctx.Err() != nil:
				return stopped(ctx.Err())
			}
			e := fromEval(err, id, m.File)
			if te, ok := errors.AsType[*topdown.Error](err); ok && te.Code == topdown.ConflictErr {
				e.Message = fmt.Sprintf("the rule gives two answers for one %s", name)
				e.Hint = "the bodies of " + name + " must exclude each other"
				if name == "verdict" {
					if subject := out.conflicting(ctx, compiler, id, input); subject != "" {
						e.Message = fmt.Sprintf("the rule gives two verdicts for %q", subject)
					}
				}
			}
			problems = append(problems, e)
			break
		}
	}
	if len(problems) == 0 {
		return fromEval(cause, "", "")
	}
	return problems.sorted()
}

// conflicting asks for the verdicts one subject at a time.
func (out *Prepared) conflicting(ctx context.Context, compiler *ast.Compiler, id string, input ast.Value) string {
	q, err := out.prepare(ctx, compiler, ruleRef(id)+".subject")
	if err != nil {
		return ""
	}
	subjects, err := eval(ctx, q, input)
	o, ok := subjects.(ast.Object)
	if err != nil || !ok {
		return ""
	}
	for _, key := range o.Keys() {
		q, err := out.prepare(ctx, compiler, fmt.Sprintf("%s.verdict[%s]", ruleRef(id), key))
		if err != nil {
			return ""
		}
		if _, err := eval(ctx, q, input); err != nil {
			return word(key.Value)
		}
	}
	return ""
}
