// Package live serves the page of the moment to browsers on this machine, and tells them when there is another. It opens no
// file and makes no page.
//
// It answers this machine alone: it listens on the loopback interface, refuses a request under any other host's name (a
// name that somebody else has pointed here), and any that another site's page makes. Answers may be read by no other origin,
// framed by none, and are stored nowhere.
package live

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http"
	"slices"
	"sync"
	"time"
)

// State is what a page is told of its setup file.
type State struct {
	Version  string `json:"version"`  // of the last good page; empty where there is none yet
	Trouble  string `json:"trouble"`  // what is wrong now; empty where nothing is
	Mistakes string `json:"mistakes"` // the mistakes of the file with their lines
}

// Server serves the last good page. Its methods may be called at once.
type Server struct {
	waiting []byte // the page where there is none yet
	policy  string

	mu      sync.Mutex
	state   State
	page    []byte
	changed chan struct{} // closed at the next change
}

// New returns a server that shows a page which waits for the first. The policy is sent with every page.
func New(waiting []byte, policy string) *Server {
	return &Server{waiting: waiting, policy: policy, changed: make(chan struct{})}
}

// Show shows a page of a version, and takes back what was wrong.
func (s *Server) Show(page []byte, version string) {
	s.change(func() { s.page, s.state = page, State{Version: version} })
}

// Trouble says what is wrong; the last good page stands.
func (s *Server) Trouble(trouble, mistakes string) {
	s.change(func() { s.state.Trouble, s.state.Mistakes = trouble, mistakes })
}

// change makes a change, with nobody else at it, and tells who waits for one.
func (s *Server) change(set func()) {
	s.mu.Lock()
	defer s.mu.Unlock()
	set()
	close(s.changed)
	s.changed = make(chan struct{})
}

// now returns what is shown, and a channel that is closed when that changes.
func (s *Server) now() (page []byte, state State, changed <-chan struct{}) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.page, s.state, s.changed
}

// Listen opens a free port of the loopback interface.
func Listen() (net.Listener, error) { return net.Listen("tcp", "127.0.0.1:0") }

// Serve answers on a listener of Listen until the context ends, and ends what is still open then. The error is nil after
// that.
func (s *Server) Serve(ctx context.Context, l net.Listener) error {
	port := l.Addr().(*net.TCPAddr).Port
	var hosts []string
	for _, name := range []string{"127.0.0.1", "localhost", "[::1]"} {
		hosts = append(hosts, fmt.Sprintf("%s:%d", name, port))
	}
	server := &http.Server{
		Handler: s.guarded(hosts), ReadHeaderTimeout: 5 * time.Second, MaxHeaderBytes: 16 << 10,
		BaseContext: func(net.Listener) context.Context { return ctx },
	}
	ended := make(chan struct{})
	go func() {
		defer close(ended)
		<-ctx.Done()
		server.Close()
	}()
	err := server.Serve(l)
	if ctx.Err() != nil {
		<-ended
		return nil
	}
	return err
}

// guarded refuses what does not come from this machine's own browser, under one of the hosts' names.
func (s *Server) guarded(hosts []string) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		head := w.Header()
		for key, value := range map[string]string{
			"Cache-Control": "no-store", "X-Content-Type-Options": "nosniff", "Referrer-Policy": "no-referrer", "X-Frame-Options": "DENY",
			"Cross-Origin-Resource-Policy": "same-origin", "Cross-Origin-Opener-Policy": "same-origin",
		} {
			head.Set(key, value)
		}
		origin, site := r.Header.Get("Origin"), r.Header.Get("Sec-Fetch-Site")
		switch {
		case !slices.Contains(hosts, r.Host), origin != "" && origin != "http://"+r.Host:
			http.Error(w, "this page is for this machine alone", http.StatusForbidden)
		case (site == "cross-site" || site == "same-site") && r.Header.Get("Sec-Fetch-Mode") != "navigate":
			http.Error(w, "this page is for this machine alone", http.StatusForbidden)
		case r.Method != http.MethodGet && r.Method != http.MethodHead:
			head.Set("Allow", "GET, HEAD")
			http.Error(w, "there is only the page to be had", http.StatusMethodNotAllowed)
		case r.URL.Path == "/":
			s.serve(w)
		case r.URL.Path == "/news":
			s.news(w, r)
		default:
			http.Error(w, "there is nothing here", http.StatusNotFound)
		}
	})
}

func (s *Server) serve(w http.ResponseWriter) {
	page, _, _ := s.now()
	if page == nil {
		page = s.waiting
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Header().Set("Content-Security-Policy", s.policy+"; frame-ancestors 'none'")
	w.Write(page)
}

// breath is how long the line to a browser stays silent at most: a browser that has gone shows itself then.
const breath = 15 * time.Second

// news sends the state, and again whenever it changes, as server-sent events (HTML Living Standard, read): the newest only,
// where several changes come at once.
func (s *Server) news(w http.ResponseWriter, r *http.Request) {
	w.Header().Set("Content-Type", "text/event-stream")
	line := http.NewResponseController(w)
	tick := time.NewTicker(breath)
	defer tick.Stop()
	for {
		_, state, changed := s.now()
		data, err := json.Marshal(state)
		if err != nil {
			return
		}
		text := fmt.Sprintf("event: state\ndata: %s\n\n", data)
		for waiting := true; waiting; text = ":\n\n" {
			if _, err := io.WriteString(w, text); err != nil || line.Flush() != nil {
				return
			}
			select {
			case <-r.Context().Done():
				return
			case <-changed:
				waiting = false
			case <-tick.C:
			}
		}
	}
}
