package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// arrows says which packages of this module each may import, and which
// modules from outside. A trailing /... allows what lies below. The standard
// library is open to all, but for what banned says. Tests may import more.
var arrows = map[string][]string{
	"training":                {},
	"training/programme":      {"training", "go.yaml.in/yaml/v3"},
	"parser":                  {"training", "parser/explain", "parser/learn", "parser/mask", "parser/sets", "parser/text", "parser/words"},
	"parser/text":             {},
	"parser/words":            {"parser/text", "training"},
	"parser/sets":             {"parser/text", "parser/words", "training"},
	"parser/learn":            {},
	"parser/learn/fit":        {"parser/learn", "parser/mask", "parser/sets", "parser/text", "parser/words", "training", "training/programme"},
	"parser/mask":             {"parser/learn", "parser/sets", "parser/text"},
	"parser/explain":          {"parser/sets", "parser/text", "parser/words", "training"},
	"store":                   {"training", "modernc.org/sqlite/...", "github.com/gofrs/flock"},
	"store/storetest":         {"modernc.org/sqlite/..."},
	"scheduler":               {"training", "github.com/robfig/cron/v3"},
	"bot":                     {"training", "parser", "scheduler", "bot/chart", "bot/slash", "bot/words"},
	"bot/words":               {"training"},
	"bot/chart":               {},
	"bot/priority":            {},
	"bot/slash":               {},
	"bot/outbox":              {"bot", "bot/priority", "training"},
	"bot/rehearsal":           {"bot", "bot/words", "training"},
	"bot/room":                {"bot", "bot/slash", "bot/words", "training", "golang.org/x/term"},
	"bot/discord":             {"bot", "bot/outbox", "bot/priority", "bot/slash", "bot/words", "training", "github.com/bwmarrin/discordgo", "github.com/gorilla/websocket", "golang.org/x/time/rate"},
	"bot/discord/discordtest": {"github.com/gorilla/websocket", "github.com/santhosh-tekuri/jsonschema/v6"},
	".":                       {"..."},
}

// outside are standard packages that reach out of the process, or give other
// bytes in another run.
var outside = []string{
	"crypto/rand", "database/sql/...", "io/fs", "math/rand/...", "net/...", "os/...", "path/filepath", "runtime/...", "syscall", "unsafe",
}

// banned are the standard packages that pure code must do without; a package
// that stands here without more does without those of outside. An adapter, the
// store and what fits the tables have their work outside.
var banned = map[string][]string{
	"training":           with("log/..."),
	"training/programme": with("log/...", "time"),
	"parser":             with("log/...", "time"),
	"parser/text":        with("log/...", "time"),
	"parser/words":       with("log/...", "time"),
	"parser/sets":        with("log/..."),
	"parser/mask":        with("log/...", "time"),
	"parser/learn":       with("log/...", "time", "math"), // sums of whole numbers are the same on any machine
	"parser/explain":     with("log/..."),
	"scheduler":          with(),
	"bot":                with(),
	"bot/chart":          with("log/..."),
	"bot/words":          with("log/..."),
	"bot/slash":          with("log/...", "time"),
	"bot/priority":       with("log/...", "time"),
	"bot/outbox":         with("log/..."),
}

// worldly are the packages that no ban holds.
var worldly = []string{
	"store/storetest",
	".", "store", "parser/learn/fit", "bot/rehearsal", "bot/room", "bot/discord", "bot/discord/discordtest",
}

func with(more ...string) []string { return append(more, outside...) }

func TestArrows(t *testing.T) {
	for dir, paths := range imports(t) {
		allowed, known := arrows[dir]
		if !known {
			t.Errorf("package %s has no place in the picture: give it its arrows here and in DEVELOPERS.md", dir)
			continue
		}
		for _, path := range paths {
			if !strings.Contains(strings.Split(path, "/")[0], ".") && !strings.HasPrefix(path, "rungbook") {
				if matches(banned[dir], path) {
					t.Errorf("package %s must do without %s", dir, path)
				}
				continue
			}
			if !matches(allowed, strings.TrimPrefix(path, "rungbook/")) {
				t.Errorf("package %s imports %s: no such arrow", dir, path)
			}
		}
	}
}

// TestBannedIsWhole has every package of the picture held by a ban or named as
// one that none holds.
func TestBannedIsWhole(t *testing.T) {
	for dir := range arrows {
		if _, held := banned[dir]; held == slices.Contains(worldly, dir) {
			t.Errorf("package %s: give it its place in banned or in worldly", dir)
		}
	}
}

// matches reports whether a rule names the package. A trailing /... names what
// lies below as well.
func matches(rules []string, path string) bool {
	return slices.ContainsFunc(rules, func(rule string) bool {
		prefix, tree := strings.CutSuffix(rule, "...")
		return rule == path || tree && strings.HasPrefix(path+"/", prefix)
	})
}

// imports lists, by folder, what the files of the module that are no tests
// import.
func imports(t *testing.T) map[string][]string {
	t.Helper()
	found := map[string][]string{}
	sourceFiles(t, func(path string) {
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		dir := filepath.ToSlash(filepath.Dir(path))
		if _, ok := found[dir]; !ok {
			found[dir] = nil
		}
		for _, spec := range file.Imports {
			name, err := strconv.Unquote(spec.Path.Value)
			if err != nil {
				t.Fatal(err)
			}
			found[dir] = append(found[dir], name)
		}
	})
	return found
}

// sourceFiles calls do with each Go file of the module that is no test.
func sourceFiles(t *testing.T, do func(path string)) {
	t.Helper()
	err := filepath.WalkDir(".", func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if entry.IsDir() && (entry.Name() == "testdata" || strings.HasPrefix(entry.Name(), ".") && path != ".") {
			return filepath.SkipDir
		}
		if strings.HasSuffix(path, ".go") && !strings.HasSuffix(path, "_test.go") {
			do(path)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// TestContextsCarryNoValues: a context says when to stop; whatever else a
// function needs to know stands among its arguments.
func TestContextsCarryNoValues(t *testing.T) {
	files := token.NewFileSet()
	sourceFiles(t, func(path string) {
		file, err := parser.ParseFile(files, path, nil, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(node ast.Node) bool {
			if call, ok := node.(*ast.CallExpr); ok {
				if f, ok := call.Fun.(*ast.SelectorExpr); ok && (f.Sel.Name == "WithValue" || f.Sel.Name == "Value" && len(call.Args) == 1) {
					t.Errorf("%s: %s: make it an argument", files.Position(call.Pos()), f.Sel.Name)
				}
			}
			return true
		})
	})
}

// TestTrainingIsPure asks the tool, not the files: whatever training needs
// comes from the standard library.
func TestTrainingIsPure(t *testing.T) {
	out, err := exec.Command("go", "list", "-deps", "-f", "{{if not .Standard}}{{.ImportPath}}{{end}}", "./training").Output()
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Fields(string(out)); !slices.Equal(got, []string{"rungbook/training"}) {
		t.Errorf("training needs %v", got)
	}
}
