// Command fit teaches the readers of parser/learn from the corpora in
// parser/testdata. It prints a report on what they say of lines by authors that
// they were not taught. With -write it writes their tables and the report instead.
package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
)

func main() {
	write := flag.Bool("write", false, "write the tables and the report")
	dir := flag.String("dir", ".", "the folder of parser/learn")
	flag.Parse()
	if err := run(*dir, *write); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(dir string, write bool) error {
	files, err := fitted(dir)
	if err != nil {
		return err
	}
	for _, f := range files {
		if !write {
			if filepath.Ext(f.path) == ".txt" {
				os.Stdout.Write(f.content)
			}
			continue
		}
		if err := os.WriteFile(f.path, f.content, 0o644); err != nil {
			return fmt.Errorf("write what was fitted: %w", err)
		}
	}
	return nil
}

// file is a file that fitting writes.
type file struct {
	path    string
	content []byte
}

// fitted returns the files that fitting writes: a table and a report for each
// reader.
func fitted(dir string) ([]file, error) {
	root := filepath.Join(dir, "..", "testdata", "corpora")
	var files []file
	for _, k := range []*task{&report, &body} {
		lines, err := corpus(root, k.name+".tsv")
		if err != nil {
			return nil, err
		}
		all := k.heldOut(lines, 1)
		thresholds := k.thresholds(all)
		words, features, weights := k.fit(lines)
		files = append(files,
			file{filepath.Join(dir, k.name+".table"), pack(words, features, weights, thresholds)},
			file{filepath.Join(root, k.name+".txt"), k.describe(lines, all, thresholds, len(features))})
	}
	return files, nil
}
