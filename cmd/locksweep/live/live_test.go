package live

import (
	"bufio"
	"context"
	"encoding/json"
	"io"
	"net/http"
	"strconv"
	"strings"
	"sync"
	"testing"
)

func serving(t *testing.T) (s *Server, address string) {
	t.Helper()
	l, err := Listen()
	if err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(l.Addr().String(), "127.0.0.1:") {
		t.Fatalf("listens on %s", l.Addr())
	}
	s = New([]byte("wait"), "default-src 'none'")
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- s.Serve(ctx, l) }()
	t.Cleanup(func() {
		stop()
		if err := <-ended; err != nil {
			t.Errorf("ends with %v", err)
		}
	})
	return s, l.Addr().String()
}

// TestOnlyThisMachineIsAnswered asks as a browser does for another site: under a name that has been pointed here (DNS
// rebinding), from another origin, from within another site's page. Fetch Metadata and Origin after their standards, memory.
func TestOnlyThisMachineIsAnswered(t *testing.T) {
	s, address := serving(t)
	s.Show([]byte("page"), "1")
	_, port, _ := strings.Cut(address, ":")
	for _, c := range []struct {
		what, method, path, host string
		head                     map[string]string
		want                     int
	}{
		{"the page", "GET", "/", address, nil, 200},
		{"by name", "GET", "/", "localhost:" + port, nil, 200},
		{"typed in", "GET", "/", address, map[string]string{"Sec-Fetch-Site": "none", "Sec-Fetch-Mode": "navigate"}, 200},
		{"a link to it", "GET", "/", address, map[string]string{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "navigate"}, 200},
		{"another name", "GET", "/", "evil.example", nil, 403},
		{"another name with the port", "GET", "/news", "evil.example:" + port, nil, 403},
		{"another port", "GET", "/", "127.0.0.1:1", nil, 403},
		{"another origin", "GET", "/news", address, map[string]string{"Origin": "http://evil.example"}, 403},
		{"another port's origin", "GET", "/news", address, map[string]string{"Origin": "http://127.0.0.1:1"}, 403},
		{"a script on another port", "GET", "/", address, map[string]string{"Sec-Fetch-Site": "same-site", "Sec-Fetch-Mode": "cors"}, 403},
		{"its own script", "GET", "/", address, map[string]string{"Sec-Fetch-Site": "same-origin", "Sec-Fetch-Mode": "cors"}, 200},
		{"no origin to name", "GET", "/news", address, map[string]string{"Origin": "null"}, 403},
		{"an image elsewhere", "GET", "/", address, map[string]string{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "no-cors"}, 403},
		{"a form elsewhere", "POST", "/", address, nil, 405},
		{"something else", "GET", "/../etc/passwd", address, nil, 404},
		{"the setup file", "GET", "/kart.toml", address, nil, 404},
	} {
		r, err := http.NewRequest(c.method, "http://"+address+c.path, nil)
		if err != nil {
			t.Fatal(err)
		}
		r.Host = c.host
		for key, value := range c.head {
			r.Header.Set(key, value)
		}
		got, err := http.DefaultTransport.RoundTrip(r)
		if err != nil {
			t.Fatal(err)
		}
		if got.StatusCode == 200 && c.path == "/" {
			body, _ := io.ReadAll(got.Body)
			if string(body) != "page" {
				t.Errorf("%s: %q", c.what, body)
			}
		}
		got.Body.Close()
		if policy := got.Header.Get("Content-Security-Policy"); c.path == "/" && c.want == 200 && policy != "default-src 'none'; frame-ancestors 'none'" {
			t.Errorf("%s: the policy is %q", c.what, policy)
		}
		if got.StatusCode != c.want {
			t.Errorf("%s: status %d, want %d", c.what, got.StatusCode, c.want)
		}
		for key, want := range map[string]string{"Cross-Origin-Resource-Policy": "same-origin", "X-Content-Type-Options": "nosniff", "Access-Control-Allow-Origin": ""} {
			if is := got.Header.Get(key); is != want {
				t.Errorf("%s: %s: %q, want %q", c.what, key, is, want)
			}
		}
	}
}

// TestTroubleLeavesTheLastGoodPage: what is wrong is told, with the version of the page that stands; the next good page takes it back.
func TestTroubleLeavesTheLastGoodPage(t *testing.T) {
	s, address := serving(t)
	r, err := http.Get("http://" + address + "/news")
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	news := bufio.NewScanner(r.Body)
	told := func() (state State) {
		for news.Scan() {
			if data, found := strings.CutPrefix(news.Text(), "data: "); found {
				if err := json.Unmarshal([]byte(data), &state); err != nil {
					t.Fatal(err)
				}
				return state
			}
		}
		t.Fatal("the news end")
		return state
	}
	told() // that there is nothing yet
	for _, c := range []struct {
		do   func()
		want State
		page string
	}{
		{func() { s.Trouble("no file", "there is none") }, State{"", "no file", "there is none"}, "wait"},
		{func() { s.Show([]byte("first"), "1") }, State{Version: "1"}, "first"},
		{func() { s.Trouble("wrong", "line 3") }, State{"1", "wrong", "line 3"}, "first"},
		{func() { s.Show([]byte("second"), "2") }, State{Version: "2"}, "second"},
	} {
		c.do()
		if got := told(); got != c.want {
			t.Errorf("told %+v, want %+v", got, c.want)
		}
		r, err := http.Get("http://" + address + "/")
		if err != nil {
			t.Fatal(err)
		}
		page, _ := io.ReadAll(r.Body)
		r.Body.Close()
		if string(page) != c.page {
			t.Errorf("the page is %q, want %q", page, c.page)
		}
	}
}

// TestShowAndTroubleAtOnce: whichever comes first, the newest page stands.
func TestShowAndTroubleAtOnce(t *testing.T) {
	s, next := New(nil, ""), make(chan string)
	var done sync.WaitGroup
	go func() {
		for version := range next {
			s.Show([]byte(version), version)
			done.Done()
		}
	}()
	for i := range 100_000 {
		version := strconv.Itoa(i)
		done.Add(1)
		next <- version
		s.Trouble("mistakes", "")
		done.Wait()
		if page, state, _ := s.now(); string(page) != version || state.Version != version {
			t.Fatalf("version %s is shown, and page %s and version %s stand", version, page, state.Version)
		}
	}
	close(next)
}
