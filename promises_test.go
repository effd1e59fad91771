package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// promises is how many the project makes, P1 to P12.
const promises = 12

var (
	promiseName = regexp.MustCompile(`\bP\d+\b`)
	promiseRow  = regexp.MustCompile(`(?m)^\| (P\d+) [^|]*\|(.*)\|$`)
	testName    = regexp.MustCompile("`((?:Test|Fuzz)\\w+)`")
)

// TestPromisesAreHeld holds that each promise of DEVELOPERS.md has a row that
// names tests, and that each of these says in its doc which promise it holds.
func TestPromisesAreHeld(t *testing.T) {
	held := promisesByTest(t)
	text, err := os.ReadFile("DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	rows := promiseRow.FindAllStringSubmatch(string(text), -1)
	if len(rows) != promises {
		t.Errorf("%d rows of promises, want %d", len(rows), promises)
	}
	for i, row := range rows {
		if want := "P" + strconv.Itoa(i+1); row[1] != want {
			t.Errorf("row %d is of %s, want %s", i+1, row[1], want)
		}
		tests := testName.FindAllStringSubmatch(row[2], -1)
		if len(tests) == 0 {
			t.Errorf("%s names no test", row[1])
		}
		for _, test := range tests {
			if !slices.Contains(held[test[1]], row[1]) {
				t.Errorf("%s: the doc of %s does not say that it holds it", row[1], test[1])
			}
		}
	}
}

// promisesByTest returns the promises that the doc of each test function names.
func promisesByTest(t *testing.T) map[string][]string {
	t.Helper()
	held := map[string][]string{}
	err := filepath.WalkDir(".", func(path string, _ os.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(path, "_test.go") {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ParseComments)
		if err != nil {
			return err
		}
		for _, decl := range file.Decls {
			function, ok := decl.(*ast.FuncDecl)
			if ok && testName.MatchString("`"+function.Name.Name+"`") {
				held[function.Name.Name] = append(held[function.Name.Name], promiseName.FindAllString(function.Doc.Text(), -1)...)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return held
}
