package design

import (
	"errors"
	"fmt"
	"math"
	"reflect"

	"backpitch/engine/quantity"
)

// quantityKinds are the kinds each quantity type is read as, first fit.
var quantityKinds = map[reflect.Type][]quantity.Kind{
	reflect.TypeFor[Length]():       {quantity.Length},
	reflect.TypeFor[Size]():         {quantity.Size},
	reflect.TypeFor[Slope]():        {quantity.Slope},
	reflect.TypeFor[Flow]():         {quantity.Flow},
	reflect.TypeFor[Volume]():       {quantity.Volume},
	reflect.TypeFor[Weight]():       {quantity.Weight},
	reflect.TypeFor[Load]():         {quantity.Load, quantity.DischargeUnit},
	reflect.TypeFor[Angle]():        {quantity.Angle},
	reflect.TypeFor[Duration]():     {quantity.Duration},
	reflect.TypeFor[Pressure]():     {quantity.Pressure},
	reflect.TypeFor[Density]():      {quantity.Density},
	reflect.TypeFor[DischargeDay](): {quantity.Flow},
}

// mayBeNegative are the keys of elevations and of heights above something;
// every other length is at least 0. Slopes may be negative too.
var mayBeNegative = map[string]bool{
	"upstream_manhole_rim": true, "sewer_invert": true, "flood_rim": true, "floor": true, "weir": true,
	"invert": true, "invert_from": true, "invert_to": true, "elevation": true, "ground_water": true, "grade": true,
	"height_above_roof": true, "height_above_opening": true, "height_above_drain": true, "height_above_insulation": true,
	"slope": true,
}

// plan says where the keys of an object go in its struct.
type plan struct {
	fields   map[string]planned
	position int // index of the field Position, -1 where there is none
}

type planned struct {
	index  int
	kinds  []quantity.Kind
	signed bool
}

var plans = map[reflect.Type]*plan{}

func init() { makePlans(reflect.TypeFor[Document]()) }

// makePlans makes the plans of t and of every struct inside it.
func makePlans(t reflect.Type) {
	for t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice {
		t = t.Elem()
	}
	if t.Kind() != reflect.Struct || quantityKinds[t] != nil || plans[t] != nil {
		return
	}
	p := &plan{fields: map[string]planned{}, position: -1}
	plans[t] = p
	for i := range t.NumField() {
		f := t.Field(i)
		if !f.IsExported() {
			continue
		}
		if f.Type == reflect.TypeFor[Position]() {
			p.position = i
			continue
		}
		key := keyOf(f)
		p.fields[key] = planned{i, quantityKinds[f.Type], mayBeNegative[key]}
		makePlans(f.Type)
	}
}

// decoder fills structs from nodes.
type decoder struct {
	table  *table
	faults *faults
	odd    bool // a value did not fit its field
}

// decode reads the whole table. What the schema has refused is passed over; a
// quantity that cannot be read is reported.
func decode(t *table, f *faults) *Document {
	refused := len(f.list)
	d := &decoder{table: t, faults: f}
	doc := &Document{source: t}
	d.fill(0, reflect.ValueOf(doc).Elem())
	if d.odd && refused == 0 {
		panic("design: the schema allows what the types do not hold")
	}
	return doc
}

func (d *decoder) fill(n int32, v reflect.Value) {
	nd := &d.table.nodes[n]
	switch k := v.Kind(); {
	case k == reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		d.fill(n, v.Elem())
	case k == reflect.Struct && nd.kind == objectNode:
		d.object(n, v)
	case k == reflect.Slice && nd.kind == arrayNode:
		list := reflect.MakeSlice(v.Type(), int(nd.count), int(nd.count))
		for c := n + 1; c < nd.next; c = d.table.nodes[c].next {
			d.fill(c, list.Index(int(d.table.nodes[c].index)))
		}
		v.Set(list)
	case k == reflect.String && nd.kind == stringNode:
		v.SetString(d.table.text(n))
	case k == reflect.Bool && (nd.kind == trueNode || nd.kind == falseNode):
		v.SetBool(nd.kind == trueNode)
	case k == reflect.Float64 && nd.kind == numberNode:
		v.SetFloat(d.table.number(n))
	case k == reflect.Int && nd.kind == numberNode:
		x := d.table.number(n)
		d.odd = d.odd || x != math.Trunc(x) || math.Abs(x) > math.MaxInt32
		v.SetInt(int64(x))
	default:
		d.odd = true
	}
}

func (d *decoder) object(n int32, v reflect.Value) {
	p := plans[v.Type()]
	if p.position >= 0 {
		*v.Field(p.position).Addr().Interface().(*Position) = d.table.position(n)
	}
	for c := n + 1; c < d.table.nodes[n].next; c = d.table.nodes[c].next {
		f, ok := p.fields[d.table.key(c)]
		switch {
		case !ok:
			d.odd = true
		case f.kinds != nil:
			d.quantity(c, f, v.Field(f.index))
		default:
			d.fill(c, v.Field(f.index))
		}
	}
}

func (d *decoder) quantity(n int32, f planned, v reflect.Value) {
	if d.table.nodes[n].kind != stringNode {
		d.odd = true
		return
	}
	text := d.table.text(n)
	q, err := quantity.ParseOneOf(text, f.kinds...)
	if err != nil {
		d.faults.addAt(n, false, "bad_quantity", func() (string, string) {
			var bad *quantity.ParseError
			if errors.As(err, &bad) {
				return bad.Error(), bad.Hint
			}
			return err.Error(), ""
		})
		return
	}
	if !f.signed && q.Fixed() <= 0 && q.Rat().Sign() < 0 {
		d.faults.addAt(n, false, "bad_quantity", func() (string, string) {
			return fmt.Sprintf("%q is below 0", short(text)), fmt.Sprintf("%q is never negative", d.table.key(n))
		})
		return
	}
	v.Field(0).Set(reflect.ValueOf(q))
}
