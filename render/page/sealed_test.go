package page

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"encoding/xml"
	"io"
	"regexp"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"locksweep/fixtures"
	"locksweep/geometry/setup"
	"locksweep/render/export"
)

// checkSealed holds a page to being alone: one script and one style, those that the policy names by their hashes (Content
// Security Policy Level 3, read), no address but a # or the empty icon, nothing that styles or acts by an attribute.
func checkSealed(t *testing.T, name string, out []byte) {
	t.Helper()
	policy, hashes := "", map[string]string{}
	for _, n := range nodes(t, out) {
		if n.Type != html.ElementNode {
			continue
		}
		if strings.EqualFold(attribute(n, "http-equiv"), "Content-Security-Policy") {
			policy = attribute(n, "content")
		}
		if (n.Data == "script" || n.Data == "style") && attribute(n, "type") == "" {
			if hashes[n.Data] != "" {
				t.Errorf("%s: a second %s", name, n.Data)
			}
			sum := sha256.Sum256([]byte(n.FirstChild.Data))
			hashes[n.Data] = n.Data + "-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
		}
		for _, a := range n.Attr {
			switch {
			case a.Key == "style", strings.HasPrefix(a.Key, "on"):
				t.Errorf("%s: <%s %s>", name, n.Data, a.Key)
			case (a.Key == "href" || a.Key == "src") && !strings.HasPrefix(a.Val, "#") && a.Val != "data:,":
				t.Errorf("%s: <%s %s=%q>", name, n.Data, a.Key, a.Val)
			}
		}
	}
	for _, want := range []string{"default-src 'none'", hashes["script"], hashes["style"], "base-uri 'none'", "form-action 'none'"} {
		if want == "" || !strings.Contains(policy, want) {
			t.Errorf("%s: the policy is %q, want %q in it", name, policy, want)
		}
	}
	if strings.Contains(policy, "unsafe") || strings.Contains(policy, "http") {
		t.Errorf("%s: the policy is %q", name, policy)
	}
}

// FuzzNames: whatever a file calls things stays text. The page has the same elements as with plain names, and says the name.
func FuzzNames(f *testing.F) {
	f.Add("Kart", "rail", "kart.toml")
	f.Add("</script><script>alert(1)</script>", `"><img src=x onerror=alert(1)>`, "a\u202eb.toml")
	f.Add("a|b", "c|d", "e|f")
	f.Add("{{.Show}}", "</title></svg><style>*{}</style>", "'\"`<!--")
	f.Add("\x00\x07\u2028]]>", "<![CDATA[", strings.Repeat("W", 5000))
	base := entry(f, "pedal-quad")
	count := func(t testing.TB, out []byte) (n int, title string) {
		for _, node := range nodes(t, out) {
			if node.Type == html.ElementNode {
				n++
			}
			if node.Type == html.ElementNode && node.Data == "h1" && node.FirstChild != nil {
				title = node.FirstChild.Data
			}
		}
		return n, title
	}
	want, _ := count(f, made(f, Options{}, base))
	f.Fuzz(func(t *testing.T, name, part, file string) {
		s, model, r := *base.Result.Setup, *base.Result.Model, *base.Result
		s.Name, model.Setup, r.Model = name, &s, &model
		scene := *model.Scene
		scene.Pieces = append(scene.Pieces[:0:0], scene.Pieces...)
		for i := range scene.Pieces {
			if scene.Pieces[i].Part != nil {
				scene.Pieces[i].Name = part
			}
		}
		model.Scene = &scene
		out := made(t, Options{}, Entry{Result: &r, Name: name, Source: &export.Source{File: file}})
		show := dataOf(t, out)
		for key, texts := range show.Films[0].Texts {
			if n := strings.Count(texts, "|") + 1; n != show.Films[0].Count {
				t.Errorf("%s has %d texts for %d frames", key, n, show.Films[0].Count)
			}
		}
		got, title := count(t, out)
		if got != want {
			t.Errorf("%d elements, with plain names %d", got, want)
		}
		// A parser puts U+FFFD in place of what is no UTF-8, and drops carriage returns, which Printable has taken out.
		if shown := strings.ToValidUTF8(setup.Printable(name), "\ufffd"); title != shown {
			t.Errorf("the page is headed %q, want %q", title, shown)
		}
	})
}

// TestPagesAreWellFormed: every start tag has its end in its place, ids are one of a kind and what names them finds them; and
// each drawing on the page, taken out, is XML.
func TestPagesAreWellFormed(t *testing.T) {
	waiting, err := Waiting()
	if err != nil {
		t.Fatal(err)
	}
	one := entry(t, "shed-kart")
	list := map[string][]byte{
		"waiting": waiting,
		"live":    made(t, Options{Live: "1"}, one),
		"two":     made(t, Options{Told: []byte("<told>")}, one, entry(t, "rack-buggy")),
		"section": made(t, Options{Sections: []Section{{Title: "a<b", Text: []byte("</pre>&"), Asked: true}}}, one),
	}
	for _, e := range fixtures.Examples {
		list[e.Name] = pageOf(t, e.Name)
	}
	for name, data := range list {
		checkNested(t, name, data)
		for _, svg := range regexp.MustCompile(`(?s)<svg.*?</svg>`).FindAll(data, -1) {
			d := xml.NewDecoder(bytes.NewReader(svg))
			for {
				if _, err := d.Token(); err == io.EOF {
					break
				} else if err != nil {
					t.Errorf("%s: %v in %.200s", name, err, svg)
					break
				}
			}
		}
	}
}

// checkNested reads a page by its tags as they stand, without the mending of a browser.
func checkNested(t *testing.T, name string, data []byte) {
	t.Helper()
	var open []string
	ids, wanted := map[string]bool{}, map[string]bool{}
	for z := html.NewTokenizer(bytes.NewReader(data)); ; {
		kind := z.Next()
		token := z.Token()
		switch kind {
		case html.ErrorToken:
			if z.Err() != io.EOF {
				t.Errorf("%s: %v", name, z.Err())
			}
			if len(open) > 0 {
				t.Errorf("%s: left open: %v", name, open)
			}
			for id := range wanted {
				if !ids[id] {
					t.Errorf("%s: nothing has the id %q", name, id)
				}
			}
			return
		case html.StartTagToken:
			if token.Data != "meta" && token.Data != "link" && token.Data != "br" && token.Data != "input" {
				open = append(open, token.Data)
			}
		case html.EndTagToken:
			if last := len(open) - 1; last < 0 || open[last] != token.Data {
				t.Fatalf("%s: </%s> within %v", name, token.Data, open)
			}
			open = open[:len(open)-1]
		}
		for _, a := range token.Attr {
			switch a.Key {
			case "id":
				if ids[a.Val] {
					t.Errorf("%s: a second id %q", name, a.Val)
				}
				ids[a.Val] = true
			case "aria-labelledby", "for":
				wanted[a.Val] = true
			case "href":
				if id, here := strings.CutPrefix(a.Val, "#"); here {
					wanted[id] = true
				}
			}
		}
	}
}

// TestGeneratorOfOthersIsNotOurs: a file of somebody else is not overwritten for a page.
func TestGeneratorOfOthersIsNotOurs(t *testing.T) {
	for _, text := range []string{"", "<!DOCTYPE html><html>", "text\n" + marker, "<!DOCTYPE html>" + strings.Repeat(" ", 2000) + marker} {
		if IsOurs([]byte(text)) {
			t.Errorf("%.40q is taken for a page of ours", text)
		}
	}
}

// TestServedPagesAskOnlyWhereTheyCameFrom: a page that is served, and the one that waits for it, run just the scripts that their policy names
// by their hashes, and may ask for news at their own place alone (Content Security Policy Level 3, read).
func TestServedPagesAskOnlyWhereTheyCameFrom(t *testing.T) {
	waiting, err := Waiting()
	if err != nil {
		t.Fatal(err)
	}
	policy := LivePolicy()
	for name, out := range map[string][]byte{"live": made(t, Options{Live: "7"}, entry(t, "pedal-quad")), "waiting": waiting} {
		scripts := 0
		for _, n := range nodes(t, out) {
			if (n.Data == "script" || n.Data == "style") && n.FirstChild != nil && attribute(n, "type") == "" {
				sum := sha256.Sum256([]byte(n.FirstChild.Data))
				if want := "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"; !strings.Contains(policy, want) {
					t.Errorf("%s: a %s that the policy does not name: %q", name, n.Data, policy)
				}
				scripts++
			}
			if version := attribute(n, "data-version"); n.Type == html.ElementNode && n.Data == "html" && version != map[string]string{"live": "7", "waiting": ""}[name] {
				t.Errorf("%s: version %q", name, version)
			}
		}
		if scripts != 2 {
			t.Errorf("%s: %d scripts and styles", name, scripts)
		}
	}
	if !strings.HasPrefix(policy, "default-src 'none'; ") || !strings.HasSuffix(policy, "; connect-src 'self'") || strings.Count(policy, "connect-src") != 1 {
		t.Errorf("the policy is %q", policy)
	}
}
