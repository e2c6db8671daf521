package main

import (
	"context"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
)

// TestMain lets scripts run the real program as "trug".
func TestMain(m *testing.M) {
	if dir, err := os.UserCacheDir(); err == nil && os.Getenv("GOCACHE") == "" {
		_ = os.Setenv("GOCACHE", filepath.Join(dir, "go-build")) // tests ask the go command, which keeps its own there
	}
	_ = os.Setenv("XDG_CACHE_HOME", os.DevNull) // where no folder can be: runs of tests remember nothing
	testscript.Main(m, map[string]func(){
		"trug": func() {
			day := func() time.Time { return time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC) }
			os.Exit(Run(context.Background(), os.Args[1:], Terminal(os.Stdout, os.Stderr, day)))
		},
	})
}

// TestScripts runs the real program as its users do; each script says what it shows.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:  "testdata/script",
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"exits": exits, "appears": appears},
	})
}

// exits runs trug and checks its exit code: exits CODE ARGS...
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE ARGS...")
	}
	err := ts.Exec("trug", args[1:]...)
	code := "0"
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		code = strconv.Itoa(exit.ExitCode())
	}
	if code != args[0] {
		ts.Fatalf("trug %s: exit %s, want %s", strings.Join(args[1:], " "), code, args[0])
	}
}

// appears waits until a file is there and, if a text is given, holds it: appears FILE [TEXT]
func appears(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 1 || len(args) > 2 {
		ts.Fatalf("usage: appears FILE [TEXT]")
	}
	wanted := append(args, "")[1]
	for deadline := time.Now().Add(2 * time.Minute); time.Now().Before(deadline); time.Sleep(20 * time.Millisecond) {
		if text, err := os.ReadFile(ts.MkAbs(args[0])); err == nil && strings.Contains(string(text), wanted) {
			return
		}
	}
	ts.Fatalf("%s does not appear with %q", args[0], wanted)
}
