package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// trug runs the real program and returns its exit code and what it wrote to standard error.
func trug(t *testing.T, args ...string) (int, string) {
	t.Helper()
	var said bytes.Buffer
	cmd := exec.Command("trug", args...)
	cmd.Stderr = &said
	err := cmd.Run()
	var exit *exec.ExitError
	if err != nil {
		require.ErrorAs(t, err, &exit)
		return exit.ExitCode(), said.String()
	}
	return 0, said.String()
}

// sums returns the sum of every file below a folder, by its path.
func sums(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	require.NoError(t, filepath.WalkDir(dir, func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := os.ReadFile(name)
		sum := sha256.Sum256(text)
		rel, _ := filepath.Rel(dir, name)
		out[filepath.ToSlash(rel)] = hex.EncodeToString(sum[:])
		return err
	}))
	return out
}

// TestInterruptedBuild: whenever Ctrl-C comes, the site's folder is the old one or the new one, whole, and
// nothing lies beside it. The signal comes at moments spread over a build, from its start to its end.
func TestInterruptedBuild(t *testing.T) {
	content := start(t, "us")
	title := func(i int) {
		text := fmt.Sprintf("title: Bench %d\nsizes: [5 gal, door-tub]\n", i)
		require.NoError(t, os.WriteFile(filepath.Join(content, "handbook.yaml"), []byte(text), 0o644))
	}
	build := []string{"build", "--in", content, "--out", "site/public"}
	title(0)
	began := time.Now()
	code, said := trug(t, build...)
	require.Zero(t, code, said)
	took := time.Since(began)
	old, stopped := sums(t, "site/public"), 0
	const runs = 12
	for i := 1; i <= runs; i++ {
		title(i)
		cmd := exec.Command("trug", build...)
		require.NoError(t, cmd.Start())
		time.Sleep(took * time.Duration(i) / runs)
		_ = cmd.Process.Signal(os.Interrupt) // it may have ended
		var exit *exec.ExitError
		if err := cmd.Wait(); errors.As(err, &exit) {
			stopped++
		} else {
			require.NoError(t, err)
		}
		now := sums(t, "site/public")
		beside, err := os.ReadDir("site")
		require.NoError(t, err)
		assert.Len(t, beside, 1, "something lies beside the site: %v", beside)
		if now[".trug-manifest"] == old[".trug-manifest"] {
			assert.Equal(t, old, now)
			continue
		}
		require.NoError(t, exec.Command("trug", "build", "--in", content, "--out", fmt.Sprintf("whole%d", i)).Run())
		assert.Equal(t, sums(t, fmt.Sprintf("whole%d", i)), now)
		old = now
	}
	assert.Positive(t, stopped, "no signal came in time")
}

// TestFullDisk: on a disk without room nothing half is left, and what was there stays.
func TestFullDisk(t *testing.T) {
	content := start(t, "us")
	disk := smallDisk(t)

	code, said := trug(t, "build", "--in", content, "--out", filepath.Join(disk, "public"))
	assert.Equal(t, 1, code)
	assert.Contains(t, said, "no space left on device")
	assert.Equal(t, 1, strings.Count(said, "\n"), said)
	assertEmpty(t, disk)

	filling := filepath.Join(disk, "filling")
	fill(t, filling)
	code, said = trug(t, "start", filepath.Join(disk, "new"))
	assert.Equal(t, 1, code)
	assert.Contains(t, said, "cannot write a handbook into")
	assert.NoDirExists(t, filepath.Join(disk, "new"))
	require.NoError(t, os.Remove(filling))

	own := filepath.Join(disk, "content")
	require.NoError(t, os.CopyFS(own, os.DirFS(content)))
	code, said = trug(t, "changes", "--record", "--in", own)
	require.Zero(t, code, said)
	require.NoError(t, os.WriteFile(filepath.Join(own, "cupboard.yaml"), []byte("alfalfa-meal: {label: {n: 3}, cup weighs: 80 g}\n"), 0o644))
	before := sums(t, own)
	fill(t, filling)
	code, said = trug(t, "changes", "--record", "--in", own)
	assert.Equal(t, 1, code)
	assert.Contains(t, said, "history.yaml\": no space left on device")
	assert.Equal(t, before, sums(t, own))
}

// smallDisk mounts a disk of 96 KB in memory; where that is not allowed the test is skipped.
func smallDisk(t *testing.T) string {
	t.Helper()
	disk := t.TempDir()
	if out, err := exec.Command("mount", "-t", "tmpfs", "-o", "size=96k", "none", disk).CombinedOutput(); err != nil {
		t.Skipf("no small disk can be mounted here: %v: %s", err, out)
	}
	t.Cleanup(func() { assert.NoError(t, exec.Command("umount", disk).Run()) })
	return disk
}

// fill takes all the room that is left.
func fill(t *testing.T, name string) {
	t.Helper()
	f, err := os.Create(name)
	require.NoError(t, err)
	defer f.Close()
	for _, size := range []int{4096, 1} {
		for err = nil; err == nil; {
			_, err = f.Write(make([]byte, size))
		}
	}
	require.ErrorContains(t, err, "no space left on device")
}

func assertEmpty(t *testing.T, dir string) {
	t.Helper()
	left, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Empty(t, left)
}
