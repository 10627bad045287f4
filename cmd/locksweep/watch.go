package main

import (
	"bytes"
	"context"
	"errors"
	"io"
	"net"
	"os/exec"
	"os/signal"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/fsnotify/fsnotify"
	"github.com/spf13/pflag"

	"locksweep/cmd/locksweep/live"
	"locksweep/geometry/setupfile"
	"locksweep/render/page"
)

var watchCommand = command{
	name: "watch", args: "SETUP [SETUP...]",
	brief: "the page of report in your browser, drawn anew whenever you save",
	about: "Serves it to this machine alone and prints the address; Ctrl-C ends it.\n" +
		"A mistake in the file shows on the page with its line, over the last good one.",
	example: "locksweep watch kart.toml --open",
	prepare: prepareWatch,
}

type watchFlags struct {
	pageFlags
	open bool
}

func prepareWatch(flags *pflag.FlagSet) action {
	var f watchFlags
	flags.BoolVar(&f.open, "open", false, "open it in the browser")
	f.pageFlags.register(flags)
	return f.run
}

func (f *watchFlags) run(sh *shell, args []string) error {
	if slices.Contains(args, "-") {
		return usagef("watch -: standard input is not saved anew; name the setup file")
	}
	if _, err := f.sources(args); err != nil {
		return err
	}
	ctx, stop := signal.NotifyContext(context.Background(), ending...)
	defer stop()
	l, err := live.Listen()
	if err != nil {
		return fileError{"the loopback interface", "no port can be opened: " + reason(err)}
	}
	address := "http://" + l.Addr().String() + "/"
	if err := sh.print([]byte(address + "\n")); err != nil {
		l.Close()
		return err
	}
	if f.open {
		if err := openBrowser(address); err != nil {
			sh.warn("--open: no browser starts: " + err.Error() + "; open the address yourself")
		}
	}
	return f.serve(ctx, sh, args, l)
}

// serve shows the page of files on a listener until the context ends.
func (f *pageFlags) serve(ctx context.Context, sh *shell, paths []string, l net.Listener) error {
	waiting, err := page.Waiting()
	if err != nil {
		return err
	}
	server := live.New(waiting, page.LivePolicy())
	w, err := newWatcher(paths)
	if err != nil {
		l.Close()
		return err
	}
	defer w.Close()
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	ended := make(chan error, 1)
	go func() { ended <- server.Serve(ctx, l) }()
	w.follow(ctx, func(version int) { f.show(sh, server, paths, version) })
	stop()
	return <-ended
}

// show makes the page anew and shows it, or what is wrong.
func (f *pageFlags) show(sh *shell, server *live.Server, paths []string, version int) {
	called := strconv.Itoa(version)
	quiet := &shell{in: sh.in, out: io.Discard, err: io.Discard}
	out, err := f.page(quiet, paths, called)
	if err == nil {
		server.Show(out, called)
		return
	}
	var said bytes.Buffer
	sh.fail(err)
	(&shell{err: &said}).fail(err)
	text := strings.ReplaceAll(said.String(), "locksweep: ", "")
	var mistakes setupfile.Errors
	if errors.As(err, &mistakes) {
		server.Trouble("The file has mistakes; below stands its last good drawing.", text)
		return
	}
	server.Trouble("It cannot be drawn as it is; below stands the last good drawing.", text)
}

func openBrowser(address string) error {
	name, args := "xdg-open", []string{address}
	switch runtime.GOOS {
	case "darwin":
		name = "open"
	case "windows":
		name, args = "rundll32", []string{"url.dll,FileProtocolHandler", address}
	}
	c := exec.Command(name, args...)
	if err := c.Start(); err != nil {
		return err
	}
	go c.Wait()
	return nil
}

// watcher follows what files say. It watches their folders, since editors put another file in the place of the one they
// save, and looks by itself now and then, since not every file system tells.
type watcher struct {
	*fsnotify.Watcher
	paths []string
	last  [][]byte // as read last; nil where there is no such file
}

// How long after the first sign of a change the files are read, so that one save is read once, and how often they are
// looked at without any sign.
const (
	settle = 20 * time.Millisecond
	glance = time.Second
)

func newWatcher(paths []string) (*watcher, error) {
	w, err := fsnotify.NewWatcher()
	if err != nil {
		return nil, fileError{paths[0], "cannot be watched: " + reason(err)}
	}
	for _, path := range paths {
		folders := []string{filepath.Dir(path)}
		if real, err := filepath.EvalSymlinks(path); err == nil {
			folders = append(folders, filepath.Dir(real))
		}
		for _, folder := range folders {
			if err := w.Add(folder); err != nil {
				w.Close()
				return nil, fileError{folder, "cannot be watched: " + reason(err)}
			}
		}
	}
	return &watcher{Watcher: w, paths: paths}, nil
}

// follow calls what is to be done at once, and whenever the files say something else, until the context ends; versions
// count from 1.
func (w *watcher) follow(ctx context.Context, do func(version int)) {
	w.changed()
	version := 1
	do(version)
	look := time.NewTimer(glance)
	defer look.Stop()
	signed := false // there was a sign since the last look: further ones, of other files maybe, do not put the next look off
	sign := func() {
		if !signed {
			signed = true
			look.Reset(settle)
		}
	}
	for {
		select {
		case <-ctx.Done():
			return
		case <-w.Events:
			sign()
			continue
		case <-w.Errors: // a queue that ran over: looking tells what is to be known
			sign()
			continue
		case <-look.C:
			signed = false
		}
		if w.changed() {
			version++
			do(version)
		}
		look.Reset(glance)
	}
}

// changed reads the files and reports whether one says something else than before.
func (w *watcher) changed() (any bool) {
	if w.last == nil {
		w.last = make([][]byte, len(w.paths))
	}
	for i, path := range w.paths {
		src := source{path: path}
		_ = src.fetch(&shell{}) // a file that cannot be read says nothing
		if (src.data == nil) != (w.last[i] == nil) || !bytes.Equal(src.data, w.last[i]) {
			any = true
		}
		w.last[i] = src.data
	}
	return any
}
