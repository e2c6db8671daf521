//go:build unix

package publish

import (
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Whatever permissions the process withholds, everybody can read the site, and only its owner change it.
func TestModesUnderAnyMask(t *testing.T) {
	for _, mask := range []int{0, 0o022, 0o077, 0o011} {
		dir := outDir(t)
		was := syscall.Umask(mask)
		_, err := Publish(dir, first)
		if err == nil {
			_, err = Publish(dir, append(files("new/index.html", "new"), first...))
		}
		syscall.Umask(was)
		require.NoError(t, err)
		for name, info := range states(t, dir) {
			want := fs.FileMode(0o644)
			if info.IsDir() {
				want = 0o755
			}
			assert.Equal(t, want, info.Mode().Perm(), "%s under mask %o", name, mask)
		}
	}
}

// asNobody runs a task as a user who owns nothing, since the administrator may write anywhere, and returns what it
// said.
func asNobody(t *testing.T, task, dir string, arg string) string {
	t.Helper()
	if os.Geteuid() != 0 {
		t.Skip("only the administrator can become somebody else")
	}
	self := filepath.Join(t.TempDir(), "self") // where the test binary is, nobody else may look
	copyFile(t, self)
	for up := filepath.Dir(self); up != os.TempDir() && len(up) > 1; up = filepath.Dir(up) {
		require.NoError(t, os.Chmod(up, 0o755))
	}
	cmd := exec.Command(self)
	cmd.Dir = "/"
	cmd.Env = []string{"TRUG_TEST_TASK=" + task, "TRUG_TEST_DIR=" + dir, "TRUG_TEST_ARG=" + arg, "TMPDIR=" + os.TempDir()}
	cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
	said, _ := cmd.CombinedOutput()
	return strings.TrimPrefix(string(said), "ready\n")
}

func copyFile(t *testing.T, to string) {
	t.Helper()
	name, err := os.Executable()
	require.NoError(t, err)
	from, err := os.Open(name)
	require.NoError(t, err)
	defer from.Close()
	f, err := os.OpenFile(to, os.O_WRONLY|os.O_CREATE, 0o755)
	require.NoError(t, err)
	_, err = io.Copy(f, from)
	require.NoError(t, err)
	require.NoError(t, f.Close())
}

// Where nothing can be written, a change is an error that says so, and a site that did not change is none.
func TestFolderThatCannotBeWritten(t *testing.T) {
	dir := outDir(t)
	_, err := Publish(dir, siteOf(0))
	require.NoError(t, err)
	require.NoError(t, os.Chmod(filepath.Dir(dir), 0o755))
	before := tree(t, filepath.Dir(dir))
	assert.Regexp(t, `^cannot write beside ".*/public": .*permission denied\n$`, asNobody(t, "publish", dir, "1 0"))
	assert.Equal(t, "0\n", asNobody(t, "publish", dir, "0 0"), "calls that change the disk")
	missing := filepath.Join(filepath.Dir(dir), "new", "public")
	assert.Regexp(t, `^cannot make the folder of ".*/new/public": .*permission denied\n$`, asNobody(t, "publish", missing, "1 0"))
	assert.Equal(t, before, tree(t, filepath.Dir(dir)))
}

func TestFolderThatCannotBeRead(t *testing.T) {
	dir := outDir(t)
	_, err := Publish(dir, siteOf(0))
	require.NoError(t, err)
	require.NoError(t, os.Chmod(filepath.Join(dir, "notes"), 0o700))
	before := tree(t, dir)
	assert.Regexp(t, `^cannot read the folder ".*/public": .*permission denied\n$`, asNobody(t, "publish", dir, "1 0"))
	assert.Equal(t, before, tree(t, dir))
}

// On a disk without room for the new site the old one stays, and nothing else.
func TestFullDisk(t *testing.T) {
	small := t.TempDir()
	if out, err := exec.Command("mount", "-t", "tmpfs", "-o", "size=128k", "none", small).CombinedOutput(); err != nil {
		t.Skipf("no small disk can be mounted here: %v: %s", err, out)
	}
	t.Cleanup(func() { assert.NoError(t, exec.Command("umount", small).Run()) })
	dir := filepath.Join(small, "public")
	publishFirst(t, dir)
	before := tree(t, dir)
	for _, size := range []int{4 << 10, 100 << 10, 1 << 20} {
		err := publishAtOnce(onDisk, dir, []File{{"a", make([]byte, size)}, {"b", make([]byte, 96<<10)}, {"c", make([]byte, 40<<10)}})
		require.ErrorIs(t, err, syscall.ENOSPC)
		require.ErrorContains(t, err, "cannot stage the site for")
		assert.Equal(t, before, tree(t, dir))
		assert.Equal(t, []string{"public"}, beside(t, dir))
	}
	_, err := Publish(dir, second)
	require.NoError(t, err)
}
