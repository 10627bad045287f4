package setupfile

import (
	"errors"
	"math"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/pelletier/go-toml/v2"

	"locksweep/geometry/setup"
)

// FuzzRead: any bytes give either a Setup of finite numbers or errors that name a place.
func FuzzRead(f *testing.F) {
	f.Add([]byte(least), "", "")
	f.Add([]byte(whole), "pickup 12 mm inboard", "arm.pickup[1]=-20")
	f.Add([]byte(rescaled(whole)), "", `part."stop lug".plate.up=[1, 2]`)
	f.Add([]byte("\ufeff"+strings.ReplaceAll(least, "\n", "\r\n")), "x", "right.kingpin={caster=4}")
	f.Add([]byte("a = [\n[[b]]\n[c\nd = 1 mm\n"), "", "=")
	f.Fuzz(func(t *testing.T, data []byte, variant, set string) {
		opt := Options{Variant: variant}
		if set != "" {
			opt.Set = []string{set}
		}
		s, warnings, err := Read("f.toml", data, opt)
		if err != nil {
			checkErrors(t, err, strings.Contains(string(data)+set+variant, "%"))
			if s != nil || warnings != nil {
				t.Error("a Setup beside an error")
			}
			return
		}
		if path := notFinite("Setup", reflect.ValueOf(*s)); path != "" {
			t.Errorf("%s is not finite", path)
		}
		again, _, err := Read("f.toml", data, opt)
		if diff := cmp.Diff(s, again); diff != "" || err != nil {
			t.Errorf("read twice: %v\n%s", err, diff)
		}
	})
}

func checkErrors(t *testing.T, err error, percent bool) {
	t.Helper()
	var list Errors
	if !errors.As(err, &list) || len(list) == 0 {
		t.Fatalf("%T: %v", err, err)
	}
	for _, e := range list {
		if e.Text == "" || e.Line > 0 && e.Column < 1 || e.Line < 0 || e.Source == "" {
			t.Errorf("%#v", e)
		}
		for _, line := range strings.Split(e.Error(), "\n") {
			if setup.Printable(line) != line || !percent && strings.Contains(line, "%!") {
				t.Errorf("message %q", line)
			}
		}
	}
}

// notFinite returns the path of a NaN or infinite number in v, or "".
func notFinite(path string, v reflect.Value) string {
	switch v.Kind() {
	case reflect.Float64:
		if x := v.Float(); math.IsNaN(x) || math.IsInf(x, 0) {
			return path
		}
	case reflect.Pointer:
		if !v.IsNil() {
			return notFinite(path, v.Elem())
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if p := notFinite(path+"."+v.Type().Field(i).Name, v.Field(i)); p != "" {
				return p
			}
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			if p := notFinite(path+"[]", v.Index(i)); p != "" {
				return p
			}
		}
	}
	return ""
}

// FuzzTree holds our tree against what the TOML library itself makes of the same text: both accept
// the same documents and find the same values.
func FuzzTree(f *testing.F) {
	for _, s := range []string{
		least, whole, "a.b.c = 1\na.b.d = 2\n[a.x]\n", "[a.b]\n[a]\nb.c = 1\n", "[[a]]\nb = 1\n[a.c]\n[[a]]\n[a.c]\n",
		"a = {b = 1, c.d = 2}\n[a.c]\n", "[a]\n[a]\n", "a = 1\n[a.b]\n", "[[a]]\n[a]\n", "[a]\n[[a]]\n", "a = []\n[[a]]\n", "a.b = 1\n[a]\n",
		"[a]\nb.c = 1\n[a.b]\n", "[a]\nb.c = 1\n[a.b.d]\n", "[a.b.c]\n[a.b]\n", "[a.b.c]\nz = 1\n[a]\nb.d = 1\n", "x = 0x1F\ny = 1_000.5e-3\nz = '''\nq\n'''\n",
		"a = [ # note\n [1, 2], # note ]\n [{b = [3]}, 4,\n]]\n",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if len(s) > 10_000 || strings.Count(s, "[")+strings.Count(s, "{") > maxNesting {
			return // bounds of our own
		}
		doc, bad := newDocument("f.toml", []byte(s))
		if bad != nil {
			return
		}
		root, errs := parse(doc)
		var want map[string]any
		err := toml.Unmarshal(doc.data, &want)
		if err != nil && strings.Contains(err.Error(), "too large") || hasDate(root) {
			return // the library bounds integers to 64 bits, and looks into dates; we have no dates
		}
		if (err == nil) != (len(errs) == 0) {
			t.Fatalf("library: %v\nours: %v\nin %q", err, errs, s)
		}
		if err == nil {
			if want == nil {
				want = map[string]any{}
			}
			if diff := cmp.Diff(plain(want), values(root), cmpopts.EquateNaNs()); diff != "" {
				t.Fatalf("library - ours +\n%s\nin %q", diff, s)
			}
		}
	})
}

func hasDate(n *node) bool {
	if n.kind == date {
		return true
	}
	for _, item := range n.items {
		if hasDate(item) {
			return true
		}
	}
	for _, f := range n.fields {
		if hasDate(f.val) {
			return true
		}
	}
	return false
}

// values turns a tree into maps, lists, texts, numbers and truths.
func values(n *node) any {
	switch n.kind {
	case number:
		return n.num
	case text:
		return n.str
	case boolean:
		return n.str == "true"
	case list:
		out := []any{}
		for _, item := range n.items {
			out = append(out, values(item))
		}
		return out
	}
	out := map[string]any{}
	for _, f := range n.fields {
		out[f.name] = values(f.val)
	}
	return out
}

// plain makes the library's integers floating-point numbers.
func plain(v any) any {
	switch v := v.(type) {
	case int64:
		return float64(v)
	case map[string]any:
		for k := range v {
			v[k] = plain(v[k])
		}
	case []any:
		for i := range v {
			v[i] = plain(v[i])
		}
	}
	return v
}

// TestPlacesAreExact: the text at each value's place, read by itself, is the value again.
func TestPlacesAreExact(t *testing.T) {
	for _, s := range []string{least, whole, "a = [ # note ]\n [1, 2] , [{b = [3]}, 'x]', \n]]\nc = {d.e = 1, f = [ ]}\n"} {
		doc, _ := newDocument("f.toml", []byte(s))
		root, errs := parse(doc)
		if len(errs) > 0 {
			t.Fatal(errs)
		}
		var check func(n *node)
		check = func(n *node) {
			if n.kind != branch || n.birth == closed && n.at.end > n.at.start && doc.data[n.at.start] == '{' {
				if n.kind != list || n.birth == closed {
					var got map[string]any
					if err := toml.Unmarshal([]byte("v = "+s[n.at.start:n.at.end]), &got); err != nil {
						t.Errorf("%q: %v", s[n.at.start:n.at.end], err)
					} else if diff := cmp.Diff(plain(got["v"]), values(n)); diff != "" {
						t.Errorf("%q:\n%s", s[n.at.start:n.at.end], diff)
					}
				}
			}
			for _, item := range n.items {
				check(item)
			}
			for _, f := range n.fields {
				if got := strings.Trim(s[f.at.start:f.at.end], `"'`); got != f.name {
					t.Errorf("key %q stands at %q", f.name, got)
				}
				check(f.val)
			}
		}
		check(root)
	}
}
