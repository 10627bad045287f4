package live

import (
	"context"
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
)

// FuzzNews: whatever a setup file makes the program say, the feed holds one event with one line of data, which says just that; no
// character in it could end the line, begin another event or be taken for markup (server-sent events: HTML Living Standard, read).
func FuzzNews(f *testing.F) {
	f.Add("1", "it has mistakes", "kart.toml:1:1: name\n  name = 1\n  ^")
	f.Add("2\n\ndata: 3", "a\r\n\r\nevent: state\ndata: {}", "\u2028\u2029\x00\x1b[31m\u202e")
	f.Add("</script>", "<script>alert(1)</script>", "{{.}}&amp;<!--")
	gone, stop := context.WithCancel(context.Background())
	stop() // the browser has left when the first state is sent
	f.Fuzz(func(t *testing.T, version, trouble, mistakes string) {
		s := New(nil, "")
		s.Show(nil, version)
		s.Trouble(trouble, mistakes)
		w := httptest.NewRecorder()
		s.news(w, httptest.NewRequestWithContext(gone, http.MethodGet, "/news", nil))
		data, found := strings.CutPrefix(w.Body.String(), "event: state\ndata: ")
		data, ended := strings.CutSuffix(data, "\n\n")
		if !found || !ended || strings.ContainsAny(data, "\n\r<>&\x00\u2028\u2029") {
			t.Fatalf("the feed is %q", w.Body.String())
		}
		var got State
		if err := json.Unmarshal([]byte(data), &got); err != nil {
			t.Fatal(err)
		}
		valid := func(text string) string { return strings.ToValidUTF8(text, "\ufffd") }
		// One mark may stand for several bytes that are no letter, or for each.
		same := func(a, b string) bool {
			return strings.ReplaceAll(a, "\ufffd", "") == strings.ReplaceAll(valid(b), "\ufffd", "")
		}
		if !same(got.Version, version) || !same(got.Trouble, trouble) || !same(got.Mistakes, mistakes) {
			t.Errorf("%+v, want %q, %q and %q", got, version, trouble, mistakes)
		}
	})
}
