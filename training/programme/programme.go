// Package programme reads the data a team trains by and holds the programmes
// that come with the binary.
//
// A programme is read whole or not at all. Every fault of a file is found in one
// go and told with file, line and key. The package must not open files, derive
// anything from what members did, or know the name of any exercise.
package programme

import (
	"bytes"
	_ "embed"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"

	"rungbook/training"
)

//go:embed ring-muscle-up.yaml
var ringMuscleUp []byte

//go:embed handstand.yaml
var handstand []byte

// shipped lists the programmes in the binary, the built-in one first.
var shipped = []struct {
	id, file string
	data     []byte
}{
	{"ring-muscle-up", "ring-muscle-up.yaml", ringMuscleUp},
	{"strict-handstand", "handstand.yaml", handstand},
}

// maxBytes bounds the size of a file that Load reads; the built-in programme is a
// tenth of it.
const maxBytes = 128 << 10

// Builtin returns the programme that a team has until its coach takes another.
// It panics if the embedded file is faulty, which a test of this package rules
// out.
func Builtin() *training.Programme {
	p, ok := Named(shipped[0].id)
	if !ok {
		panic("programme: the built-in programme cannot be read")
	}
	return p
}

// Source returns the YAML text of a programme in the binary by its id; ok is
// false for an id that IDs does not list. The text must not be changed.
func Source(id string) (data []byte, ok bool) {
	for _, s := range shipped {
		if s.id == id {
			return s.data, true
		}
	}
	return nil, false
}

// Named returns a programme in the binary by its id; ok is false for an id that
// IDs does not list. Each call reads it anew, so that what one caller changes
// harms no other.
func Named(id string) (p *training.Programme, ok bool) {
	for _, s := range shipped {
		if s.id == id {
			p, err := Load(s.file, s.data)
			return p, err == nil
		}
	}
	return nil, false
}

// IDs lists the ids of the programmes in the binary, the built-in one first.
func IDs() []string {
	ids := make([]string, len(shipped))
	for i, s := range shipped {
		ids[i] = s.id
	}
	return ids
}

// Fault is one thing wrong with a programme file.
type Fault struct {
	File string
	Line int    // from 1
	Key  string // the keys from the top, as rest.sessions; "file" where the text is no YAML
	Say  string // what is wrong and what to do
}

// Error returns the fault on one line: file:line: key: what is wrong and what
// to do.
func (f *Fault) Error() string {
	key := strings.Join(strings.Fields(f.Key), " ") // YAML lets a key hold line breaks
	return fmt.Sprintf("%s:%d: %s: %s", f.File, f.Line, key, f.Say)
}

// Faults returns the faults in an error of Load, by line; none for any other
// error.
func Faults(err error) []*Fault {
	var joined interface{ Unwrap() []error }
	if !errors.As(err, &joined) {
		return nil
	}
	var faults []*Fault
	for _, err := range joined.Unwrap() {
		var fault *Fault
		if errors.As(err, &fault) {
			faults = append(faults, fault)
		}
	}
	return faults
}

// Library is the package as a value, for who needs it as an interface. The zero
// value is ready.
type Library struct{}

// Load is the function Load.
func (Library) Load(name string, data []byte) (*training.Programme, error) { return Load(name, data) }

// IDs is the function IDs.
func (Library) IDs() []string { return IDs() }

// Source is the function Source.
func (Library) Source(id string) ([]byte, bool) { return Source(id) }

// Load reads a programme from YAML. The name is the file's, for the faults. The
// error joins all faults, ordered by line; with an error the programme is nil.
func Load(name string, data []byte) (*training.Programme, error) {
	d := &document{file: name}
	root := d.parse(data)
	if root == nil {
		return nil, d.err()
	}
	b := newBuilder(d)
	b.programme(root)
	if err := d.err(); err != nil {
		return nil, err
	}
	p := b.result()
	p.Index()
	return p, nil
}

var yamlLine = regexp.MustCompile(`^yaml: (?:line (\d+): )?`)

// parse returns the root of the one document in data, or nil, with a fault noted.
func (d *document) parse(data []byte) *yaml.Node {
	top := place{line: 1, key: "file"}
	if len(data) > maxBytes {
		d.fault(top, "is longer than %d bytes; leave out what is no programme", maxBytes)
		return nil
	}
	decoder := yaml.NewDecoder(bytes.NewReader(data))
	var doc, more yaml.Node
	if err := decoder.Decode(&doc); err != nil {
		if errors.Is(err, io.EOF) {
			d.fault(top, "is empty; start from the built-in programme")
			return nil
		}
		d.syntax(err)
		return nil
	}
	if err := decoder.Decode(&more); err == nil {
		d.fault(place{line: max(more.Line, 1), key: "file"}, "holds a second document; keep one programme a file")
		return nil
	} else if !errors.Is(err, io.EOF) {
		d.syntax(err)
		return nil
	}
	return doc.Content[0]
}

// syntax notes an error of the YAML reader as a fault with its line.
func (d *document) syntax(err error) {
	text, line := err.Error(), 1
	if m := yamlLine.FindStringSubmatch(text); m != nil {
		text = text[len(m[0]):]
		if n, err := strconv.Atoi(m[1]); err == nil {
			line = n
		}
	}
	d.fault(place{line: line, key: "file"}, "is no YAML (%s); mend it there or a line before or after", text)
}

// err returns the faults found so far, by line, joined; nil where there are none.
func (d *document) err() error {
	slices.SortStableFunc(d.faults, func(a, b *Fault) int { return a.Line - b.Line })
	errs := make([]error, len(d.faults))
	for i, fault := range d.faults {
		errs[i] = fault
	}
	return errors.Join(errs...)
}
