package main

import (
	"bufio"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"
)

// What a function, a line and a condition may cost a reader. Tests may have long
// lines: their tables are read by the row.
const (
	maxComplexity = 20  // independent paths through a function
	maxLine       = 140 // characters
	maxOperators  = 5   // && and || in one condition
	maxFile       = 400 // lines
	maxMost       = 45  // lines of a function, for nine in ten of a package's
	maxUntold     = 30  // lines of a function without a doc
)

// TestLimits holds every Go file of the project to the limits.
func TestLimits(t *testing.T) {
	err := filepath.WalkDir(".", func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || filepath.Ext(path) != ".go" {
			return err
		}
		if !strings.HasSuffix(path, "_test.go") {
			longLines(t, path)
		}
		files := token.NewFileSet()
		file, err := parser.ParseFile(files, path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		if n := files.Position(file.End()).Line; n > maxFile {
			t.Errorf("%s: %d lines", path, n)
		}
		functions(file, func(f ast.Node, body *ast.BlockStmt) {
			if n := complexity(body); n > maxComplexity {
				t.Errorf("%s: a function of complexity %d", files.Position(f.Pos()), n)
			}
		})
		conditions(file, func(at token.Pos, n int) {
			t.Errorf("%s: a condition of %d operators", files.Position(at), n)
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// TestFunctionLength holds nine functions in ten of each package to a length, and
// each longer one to a doc. Tests may be longer.
func TestFunctionLength(t *testing.T) {
	lengths := map[string][]int{}
	err := filepath.WalkDir(".", func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || filepath.Ext(path) != ".go" || strings.HasSuffix(path, "_test.go") {
			return err
		}
		files := token.NewFileSet()
		file, err := parser.ParseFile(files, path, nil, parser.ParseComments|parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		for _, declared := range file.Decls {
			f, ok := declared.(*ast.FuncDecl)
			if !ok || f.Body == nil {
				continue
			}
			n := files.Position(f.End()).Line - files.Position(f.Pos()).Line + 1
			if n > maxUntold && f.Doc == nil {
				t.Errorf("%s: a function of %d lines without a doc", files.Position(f.Pos()), n)
			}
			dir := filepath.Dir(path)
			lengths[dir] = append(lengths[dir], n)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for dir, all := range lengths {
		slices.Sort(all)
		if n := all[len(all)*9/10]; n > maxMost {
			t.Errorf("%s: one function in ten has %d lines or more", dir, n)
		}
	}
}

func longLines(t *testing.T, path string) {
	file, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	scan := bufio.NewScanner(file)
	for n := 1; scan.Scan(); n++ {
		line := strings.ReplaceAll(scan.Text(), "\t", "    ")
		if got := utf8.RuneCountInString(line); got > maxLine {
			t.Errorf("%s:%d: %d characters", path, n, got)
		}
	}
	if scan.Err() != nil {
		t.Fatal(scan.Err())
	}
}

// functions reports each function of a file, those without a name too.
func functions(file *ast.File, report func(f ast.Node, body *ast.BlockStmt)) {
	ast.Inspect(file, func(node ast.Node) bool {
		switch f := node.(type) {
		case *ast.FuncDecl:
			if f.Body != nil {
				report(f, f.Body)
			}
		case *ast.FuncLit:
			report(f, f.Body)
		}
		return true
	})
}

// complexity is McCabe's count (1976): one and a branch each for if, for, a case
// with a condition, && and ||. What a function literal does is its own.
func complexity(body *ast.BlockStmt) int {
	n := 1
	ast.Inspect(body, func(node ast.Node) bool {
		switch node := node.(type) {
		case *ast.IfStmt, *ast.ForStmt, *ast.RangeStmt:
			n++
		case *ast.CaseClause:
			if node.List != nil {
				n++
			}
		case *ast.CommClause:
			if node.Comm != nil {
				n++
			}
		case *ast.BinaryExpr:
			if node.Op == token.LAND || node.Op == token.LOR {
				n++
			}
		case *ast.FuncLit:
			return false
		}
		return true
	})
	return n
}

// conditions reports each whole condition that has more operators than it may.
func conditions(file *ast.File, report func(at token.Pos, n int)) {
	ast.Inspect(file, func(node ast.Node) bool {
		whole, ok := node.(*ast.BinaryExpr)
		if !ok || whole.Op != token.LAND && whole.Op != token.LOR {
			return true
		}
		n := 0
		ast.Inspect(whole, func(node ast.Node) bool {
			if part, ok := node.(*ast.BinaryExpr); ok && (part.Op == token.LAND || part.Op == token.LOR) {
				n++
			}
			return true
		})
		if n > maxOperators {
			report(whole.Pos(), n)
		}
		return false
	})
}
