package main

import (
	"bytes"
	"os"
	"testing"
)

// TestFitted holds that the embedded tables and the reports are what the
// corpora give: whoever adds a line runs go generate.
func TestFitted(t *testing.T) {
	files, err := fitted("..")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		kept, err := os.ReadFile(f.path)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(kept, f.content) {
			t.Errorf("%s is not what the corpora give: go generate ./parser/learn", f.path)
		}
	}
}
