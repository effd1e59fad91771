package programme

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"go.yaml.in/yaml/v3"
)

// document gathers the faults of one file while it is read.
type document struct {
	file   string
	faults []*Fault
}

// place is where a value stands in the file.
type place struct {
	line int    // from 1
	key  string // the keys from the top, joined with dots; "" at the top
}

func (at place) within(key string) string {
	if at.key == "" {
		return key
	}
	return at.key + "." + key
}

func (d *document) fault(at place, format string, args ...any) {
	d.faults = append(d.faults, &Fault{d.file, at.line, at.key, fmt.Sprintf(format, args...)})
}

// reader reads one value into what it was made for, or notes a fault.
type reader func(value *yaml.Node, at place)

// field is a key that a mapping may have, or must where it is needed.
type field struct {
	key  string
	need bool
	read reader
}

// mapping reads a mapping of the given fields. Any other key is a fault.
func (d *document) mapping(fields ...field) reader {
	return func(value *yaml.Node, at place) {
		seen := map[string]bool{}
		d.pairs(value, at, func(key string, value *yaml.Node, at place) {
			seen[key] = true
			i := slices.IndexFunc(fields, func(f field) bool { return f.key == key })
			if i < 0 {
				d.fault(at, "is not known here; use one of %s", keys(fields))
				return
			}
			fields[i].read(value, at)
		})
		if value.Kind != yaml.MappingNode {
			return
		}
		for _, f := range fields {
			if f.need && !seen[f.key] {
				d.fault(place{value.Line, at.within(f.key)}, "is missing; add it")
			}
		}
	}
}

func keys(fields []field) string {
	words := make([]string, len(fields))
	for i, f := range fields {
		words[i] = f.key
	}
	return strings.Join(words, ", ")
}

// pairs calls each for every key of a mapping, in the order written. A key that
// stands twice is a fault.
func (d *document) pairs(value *yaml.Node, at place, each func(key string, value *yaml.Node, at place)) {
	if value.Kind != yaml.MappingNode {
		d.fault(at, "is %s; write keys with values here", kind(value))
		return
	}
	seen := map[string]bool{}
	for i := 0; i+1 < len(value.Content); i += 2 {
		key, value := value.Content[i], value.Content[i+1]
		here := place{key.Line, at.within(clip(key.Value))}
		switch {
		case key.Kind != yaml.ScalarNode || key.Value == "":
			d.fault(place{key.Line, at.within("?")}, "is no key; write a plain word before the colon")
		case seen[key.Value]:
			d.fault(here, "stands twice; keep one")
		default:
			seen[key.Value] = true
			each(key.Value, value, here)
		}
	}
}

// list reads every entry of a list with the reader. An empty list is a fault.
func (d *document) list(each reader) reader {
	return func(value *yaml.Node, at place) {
		if value.Kind != yaml.SequenceNode {
			d.fault(at, "is %s; write a list here", kind(value))
			return
		}
		if len(value.Content) == 0 {
			d.fault(at, "is an empty list; put at least one entry in it or leave the key out")
			return
		}
		for _, entry := range value.Content {
			each(entry, place{entry.Line, at.key})
		}
	}
}

// maxText bounds a line of text, in bytes, so that an answer that quotes it
// stays short.
const maxText = 200

// text reads one line of text.
func (d *document) text(into *string) reader {
	return func(value *yaml.Node, at place) {
		text := strings.TrimSpace(value.Value)
		switch {
		case value.Kind != yaml.ScalarNode || value.Tag != "!!str":
			d.fault(at, "is %s; write text here, in quotes if it looks like something else", kind(value))
		case text == "":
			d.fault(at, "is empty; write something or leave the key out")
		case len(text) > maxText:
			d.fault(at, "is longer than %d bytes; shorten it", maxText)
		case strings.ContainsFunc(text, func(r rune) bool { return !unicode.IsPrint(r) }):
			d.fault(at, "holds a line break or a character that does not print; keep it to one plain line")
		default:
			*into = text
		}
	}
}

// number reads a whole number from least to most. A most of math.MaxInt is no
// bound.
func (d *document) number(into *int, least, most int) reader {
	return func(value *yaml.Node, at place) {
		n, err := strconv.Atoi(value.Value)
		switch {
		case value.Kind != yaml.ScalarNode || value.Tag != "!!int" || err != nil:
			d.fault(at, "is %s; write a whole number %s", kind(value), span(least, most))
		case n < least || n > most:
			d.fault(at, "is %d; it must be %s", n, span(least, most))
		default:
			*into = n
		}
	}
}

func span(least, most int) string {
	if most == math.MaxInt {
		return fmt.Sprintf("from %d up", least)
	}
	return fmt.Sprintf("from %d to %d", least, most)
}

// flag reads true or false.
func (d *document) flag(into *bool) reader {
	return func(value *yaml.Node, at place) {
		if value.Kind != yaml.ScalarNode || value.Tag != "!!bool" {
			d.fault(at, "is %s; write true or false", kind(value))
			return
		}
		*into = strings.EqualFold(value.Value, "true")
	}
}

// kind returns what to call a value in a fault.
func kind(value *yaml.Node) string {
	switch {
	case value.Kind == yaml.MappingNode:
		return "a group of keys"
	case value.Kind == yaml.SequenceNode:
		return "a list"
	case value.Kind == yaml.AliasNode:
		return "a reference to another place"
	case value.Tag == "!!null":
		return "empty"
	}
	return strconv.Quote(clip(value.Value))
}

// clip shortens a text that a fault quotes.
func clip(text string) string {
	const most = 40
	if runes := []rune(text); len(runes) > most {
		return string(runes[:most]) + "…"
	}
	return text
}
