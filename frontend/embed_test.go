package frontend

import (
	"crypto/sha256"
	"encoding/hex"
	"io/fs"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// The hash was taken from preact.mjs of the package preact, version 11.2.0, as
// its authors published it.
func TestPreactIsServedAsPublished(t *testing.T) {
	want, err := os.ReadFile("vendor/SHA256")
	require.NoError(t, err)
	served, err := Files.ReadFile("vendor/preact.mjs")
	require.NoError(t, err)
	sum := sha256.Sum256(served)
	require.Equal(t, strings.TrimSpace(string(want)), hex.EncodeToString(sum[:])+"  preact.mjs")

	notice, err := Files.ReadFile("vendor/LICENSE")
	require.NoError(t, err)
	require.Contains(t, string(notice), "MIT License")
}

// own gives the pages, style sheets and modules that are ours.
func own(t *testing.T) map[string]string {
	t.Helper()
	files := map[string]string{}
	require.NoError(t, fs.WalkDir(Files, ".", func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || strings.HasPrefix(name, "vendor/") {
			return err
		}
		text, err := Files.ReadFile(name)
		files[name] = string(text)
		return err
	}))
	require.NotEmpty(t, files)
	return files
}

func TestNoModuleWritesMarkup(t *testing.T) {
	banned := regexp.MustCompile(`innerHTML|outerHTML|insertAdjacentHTML|document\.write|dangerouslySetInnerHTML|\beval\(|new Function`)
	require.Regexp(t, banned, "x.innerHTML = name", "the pattern finds what it is for")
	for name, text := range own(t) {
		require.NotRegexp(t, banned, text, name)
	}
}

func TestNoModuleAsksForWhatPlainHTTPLacks(t *testing.T) {
	banned := regexp.MustCompile(`randomUUID|crypto\.subtle|serviceWorker|navigator\.(wakeLock|clipboard|share|locks|mediaDevices)|location\.reload|location\.(href|assign|replace)\b\s*[=(]`)
	require.Regexp(t, banned, "location.reload()", "the pattern finds what it is for")
	for name, text := range own(t) {
		require.NotRegexp(t, banned, text, name)
	}
}

func TestThePageHasNothingInline(t *testing.T) {
	page := own(t)["index.html"]
	require.NotRegexp(t, `<style|\sstyle=|\son[a-z]+=|<script(?:[^>]*)>[^<]`, page)
	require.NotRegexp(t, `https?://`, page, "nothing comes from another server")
}

func TestEveryFileHasItsFolder(t *testing.T) {
	for name := range own(t) {
		require.Regexp(t, `^[^/]+\.(html|js|svg)$|^(core|phone|captain|wall|sheet|pack)/[^/]+\.(css|js)$`, name)
	}
}
