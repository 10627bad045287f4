package main

import (
	"cmp"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime/debug"
	"strconv"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"locksweep/fixtures"
	"locksweep/fixtures/trial"
)

func TestMain(m *testing.M) {
	debug.SetGCPercent(400) // short runs need not collect
	testscript.Main(m, map[string]func(){"locksweep": unwrapped, "locksweep80": main})
}

// unwrapped is main with every message on one line, so that a script may look for its words wherever a line would end.
func unwrapped() {
	ignoreClosedPipes()
	sh := newShell()
	sh.width = 0
	os.Exit(run(sh, os.Args[1:]))
}

// TestScripts runs whole commands, a file for each promise. The example setups lie in the folder of
// every script, `exits N command…` asks for an exit status, and what stands behind [long] is done under -long alone.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 filepath.Join("testdata", "script"),
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(env *testscript.Env) error {
			// Scripts run beside one another, a core for each; for what cores share there are tests of their own, and GOMAXPROCS in .ci/run.
			env.Setenv("GOMAXPROCS", cmp.Or(os.Getenv("GOMAXPROCS"), "1"))
			for _, e := range fixtures.Examples {
				data, err := e.Data()
				if err != nil {
					return err
				}
				if err := os.WriteFile(filepath.Join(env.WorkDir, e.Name+".toml"), data, 0o644); err != nil {
					return err
				}
			}
			return nil
		},
		Condition: func(name string) (bool, error) {
			if name != "long" {
				return false, fmt.Errorf("unknown condition %q", name)
			}
			return trial.Long(), nil
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){"exits": exits},
	})
}

// exits runs a command and checks its exit status.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits status command...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	err = ts.Exec(args[1], args[2:]...)
	got := 0
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		got = exit.ExitCode()
	} else {
		ts.Check(err)
	}
	if got != want {
		ts.Fatalf("exit status %d, want %d", got, want)
	}
}
