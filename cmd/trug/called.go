package main

import (
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
)

// called returns the words that call this program again: its name where the shell finds it, else its file. What "go
// run" made may be gone tomorrow: it is called as it was now, which works from this folder alone (moves is false).
func called() (words string, moves bool) {
	self, err := os.Executable()
	if err != nil {
		return "trug", true
	}
	return callOf(self, os.Stat)
}

func callOf(self string, stat func(string) (fs.FileInfo, error)) (words string, moves bool) {
	if found, err := exec.LookPath("trug"); err == nil && sameFile(found, self, stat) {
		return "trug", true
	}
	if !strings.Contains(filepath.ToSlash(self), "/go-build") {
		return inShell(self), true
	}
	if _, err := stat(filepath.FromSlash("cmd/trug/main.go")); err == nil {
		return "go run ./cmd/trug", false
	}
	return "go run .", false
}

func sameFile(a, b string, stat func(string) (fs.FileInfo, error)) bool {
	one, errOne := stat(a)
	other, errOther := stat(b)
	return errOne == nil && errOther == nil && os.SameFile(one, other)
}

var plainWord = regexp.MustCompile(`^[A-Za-z0-9._/~-]+$`)

// inShell writes a path as a shell reads it.
func inShell(path string) string {
	if plainWord.MatchString(path) {
		return path
	}
	return "'" + strings.ReplaceAll(path, "'", `'\''`) + "'"
}
