package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync/atomic"
	"testing"
	"time"
	"unicode"

	"locksweep/cmd/locksweep/live"
	"locksweep/fixtures/example"
	"locksweep/fixtures/trial"
)

// watched is a file that is served while a test saves it.
type watched struct {
	path, address string
	news          *bufio.Scanner
	states        atomic.Int64 // that have been sent
}

func watch(t testing.TB, path string) *watched {
	t.Helper()
	l, err := live.Listen()
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	f := pageFlags{asked: func(string) bool { return false }}
	ended := make(chan error, 1)
	sh := &shell{in: strings.NewReader(""), out: new(bytes.Buffer), err: new(bytes.Buffer)}
	go func() { ended <- f.serve(ctx, sh, []string{path}, l) }()
	t.Cleanup(func() {
		stop()
		if err := <-ended; err != nil {
			t.Errorf("the watch ends with %v", err)
		}
		if c, err := net.Dial("tcp", l.Addr().String()); err == nil {
			c.Close()
			t.Error("it still listens after its end")
		}
	})
	w := &watched{path: path, address: "http://" + l.Addr().String() + "/"}
	r, err := http.Get(w.address + "news")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { r.Body.Close() })
	w.news = bufio.NewScanner(r.Body)
	return w
}

// until reads news until a state fits, and returns it.
func (w *watched) until(t testing.TB, what string, fits func(live.State) bool) live.State {
	t.Helper()
	limit := time.AfterFunc(2*time.Minute, func() { panic("no news: " + what) })
	defer limit.Stop()
	for w.news.Scan() {
		var s live.State
		if data, found := strings.CutPrefix(w.news.Text(), "data: "); found {
			if err := json.Unmarshal([]byte(data), &s); err != nil {
				t.Fatal(err)
			}
			w.states.Add(1)
			if fits(s) {
				return s
			}
		}
	}
	t.Fatalf("%s: the news end", what)
	return live.State{}
}

func (w *watched) page(t *testing.T) string {
	t.Helper()
	r, err := http.Get(w.address)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	var b bytes.Buffer
	if _, err := b.ReadFrom(r.Body); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// saveIn, saveRename and saveBackup are how editors save: in place, by another file put in its place, and by moving the old
// one away first.
func saveIn(t testing.TB, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

func saveRename(t testing.TB, path, text string) {
	t.Helper()
	saveIn(t, path+".new", text)
	if err := os.Rename(path+".new", path); err != nil {
		t.Fatal(err)
	}
}

func saveBackup(t testing.TB, path, text string) {
	t.Helper()
	os.Rename(path, path+"~")
	saveIn(t, path, text)
}

// TestWatchLosesNoSave saves in every manner, every other time a broken file: after each save the page has to come to say
// that one. At the end no goroutine and no open file is left over. A thousand saves with -long.
func TestWatchLosesNoSave(t *testing.T) {
	data := example.Data(t, "cyclekart")
	routines, open := runtime.NumGoroutine(), openFiles()
	named := func(i int) string {
		return strings.Replace(string(data), "name", fmt.Sprintf("name = \"save %d\" #", i), 1)
	}
	saves := []func(testing.TB, string, string){saveIn, saveRename, saveBackup}
	count := trial.Count(24, 1000)
	t.Run("saves", func(t *testing.T) {
		path := filepath.Join(t.TempDir(), "kart.toml")
		saveIn(t, path, named(-1))
		w := watch(t, path)
		w.until(t, "the first page", func(s live.State) bool { return s.Version != "" })
		for i := range count {
			save := saves[i%3]
			if i%2 == 0 {
				save(t, path, named(i)+fmt.Sprintf("\nnonsense%d = 1\n", i))
				got := w.until(t, fmt.Sprintf("broken save %d", i), func(s live.State) bool { return strings.Contains(s.Mistakes, fmt.Sprintf("nonsense%d", i)) })
				if got.Version == "" || !strings.Contains(got.Mistakes, "^") {
					t.Errorf("save %d: %+v, want the last version and the line with its caret", i, got)
				}
				continue
			}
			save(t, path, named(i))
			w.until(t, fmt.Sprintf("save %d", i), func(s live.State) bool {
				return s.Trouble == "" && strings.Contains(w.page(t), fmt.Sprintf("<h1>save %d</h1>", i))
			})
		}
		if err := os.Remove(path); err != nil {
			t.Fatal(err)
		}
		w.until(t, "the file gone", func(s live.State) bool { return strings.Contains(s.Mistakes, "there is no such file") })
		saveRename(t, path, named(count))
		w.until(t, "the file back", func(s live.State) bool { return s.Trouble == "" })
		t.Logf("%d saves, %d states sent", count, w.states.Load())
	})
	http.DefaultClient.CloseIdleConnections()
	for range 100 {
		if runtime.NumGoroutine() <= routines+2 && openFiles() <= open+2 {
			return
		}
		time.Sleep(20 * time.Millisecond)
	}
	t.Errorf("%d goroutines and %d open files after, %d and %d before", runtime.NumGoroutine(), openFiles(), routines, open)
}

// TestWatchIsNotHeldUp: what another program writes beside the setup file all the time does not keep a save from showing, and
// shows no other page.
func TestWatchIsNotHeldUp(t *testing.T) {
	data := example.Data(t, "cyclekart")
	path := filepath.Join(t.TempDir(), "kart.toml")
	saveIn(t, path, string(data))
	w := watch(t, path)
	first := w.until(t, "the first page", func(s live.State) bool { return s.Version != "" }).Version
	stop, stopped := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(stopped)
		for {
			select {
			case <-stop:
				return
			case <-time.After(2 * time.Millisecond):
				os.WriteFile(path+".log", []byte("line"), 0o600)
			}
		}
	}()
	saveIn(t, path, strings.Replace(string(data), "name", "name = \"next\" #", 1))
	w.until(t, "the next page", func(s live.State) bool { return s.Version != first && s.Trouble == "" })
	time.Sleep(10 * settle) // what is written beside it goes on
	close(stop)
	<-stopped
	if page := w.page(t); !strings.Contains(page, ` data-version="2"`) && !strings.Contains(page, ` data-version="3"`) { // a save may be read half-way through
		t.Errorf("what is written beside the file makes the page anew: %.60s", page)
	}
}

// openFiles counts this process's open files; 0 where the system does not list them.
func openFiles() int {
	list, _ := os.ReadDir("/proc/self/fd")
	return len(list)
}

// TestWatchedMistakesAreHarmless: names and lines of a broken file reach the page without what steers a terminal or turns the
// direction of writing.
func TestWatchedMistakesAreHarmless(t *testing.T) {
	data := example.Data(t, "cyclekart")
	path := filepath.Join(t.TempDir(), "kart.toml")
	saveIn(t, path, string(data)+"\n\"\\u001b[31m\\u202e<b>\" = 1 # \u202e \u2066 {{.}}\n")
	w := watch(t, path)
	got := w.until(t, "the mistake", func(s live.State) bool { return s.Mistakes != "" })
	for _, r := range got.Mistakes {
		if r != '\n' && !unicode.IsPrint(r) {
			t.Errorf("%U in %q", r, got.Mistakes)
		}
	}
	if !strings.Contains(got.Mistakes, "<b>") {
		t.Errorf("the key is not named: %q", got.Mistakes)
	}
	if strings.Contains(w.page(t), "<b>") {
		t.Error("it stands on the page as markup")
	}
}

// BenchmarkWatchedSave is from saving a file to the news of its page: to take less than 0.3 s.
func BenchmarkWatchedSave(b *testing.B) {
	data := example.Data(b, "cyclekart")
	path := filepath.Join(b.TempDir(), "kart.toml")
	saveIn(b, path, string(data))
	w := watch(b, path)
	last := w.until(b, "the first page", func(s live.State) bool { return s.Version != "" }).Version
	for i := 0; b.Loop(); i++ {
		saveIn(b, path, strings.Replace(string(data), "name", fmt.Sprintf("name = \"save %d\" #", i), 1))
		last = w.until(b, "the next", func(s live.State) bool { return s.Version != last }).Version
	}
}
