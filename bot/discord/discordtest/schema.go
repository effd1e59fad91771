package discordtest

import (
	"bytes"
	"encoding/json"
	"fmt"
	"net/http"
	"strconv"
	"strings"
	"sync"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

// Schema is the platform's published description, with which every body is
// compared. Its methods may be called by several goroutines; on nil they do
// nothing.
type Schema struct {
	mu       sync.Mutex
	document any
	compiler *jsonschema.Compiler
	compiled map[string]*jsonschema.Schema
}

const where = "mem:///discord.json"

// NewSchema reads the published description.
func NewSchema(data []byte) (*Schema, error) {
	document, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("read the platform's description: %w", err)
	}
	compiler := jsonschema.NewCompiler()
	compiler.DefaultDraft(jsonschema.Draft2020)
	if err := compiler.AddResource(where, document); err != nil {
		return nil, fmt.Errorf("read the platform's description: %w", err)
	}
	return &Schema{document: document, compiler: compiler, compiled: map[string]*jsonschema.Schema{}}, nil
}

// check compares a value with what stands at a place of the description, and
// takes it for a fault if nothing does; the fake's lock must be held.
func (h *Schema) check(s *Server, what string, value any, path ...string) {
	if h == nil {
		return
	}
	described := h.find(path)
	if described == nil {
		s.fault("%s: the description has none", what)
		return
	}
	raw, err := json.Marshal(value)
	if err != nil {
		panic(err) // our own shapes
	}
	plain, err := jsonschema.UnmarshalJSON(bytes.NewReader(raw))
	if err != nil {
		panic(err)
	}
	schema, err := h.at(path)
	if err == nil {
		err = schema.Validate(plain)
	}
	if err != nil {
		s.fault("%s: %v", what, err)
	}
	if strings.HasPrefix(what, "request") {
		for _, name := range h.unknown(plain, []any{described}, "") {
			s.fault("%s: no field %s", what, name)
		}
	}
}

// unknown lists the fields of a value that none of the alternatives names: the
// description lets any pass, and the platform leaves them out in silence.
func (h *Schema) unknown(value any, alternatives []any, at string) (names []string) {
	shapes := h.shapes(alternatives)
	switch value := value.(type) {
	case []any:
		var items []any
		for _, shape := range shapes {
			items = append(items, shape["items"], shape["additionalProperties"])
		}
		for _, one := range value {
			names = append(names, h.unknown(one, items, at+"[]")...)
		}
	case map[string]any:
		for key, inner := range value {
			var known []any
			for _, shape := range shapes {
				if properties, has := shape["properties"].(map[string]any); has && properties[key] != nil {
					known = append(known, properties[key])
				} else if more, has := shape["additionalProperties"].(map[string]any); has {
					known = append(known, more)
				}
			}
			if known == nil {
				names = append(names, at+"."+key)
				continue
			}
			names = append(names, h.unknown(inner, known, at+"."+key)...)
		}
	}
	return names
}

// shapes are the schemas behind references and choices.
func (h *Schema) shapes(alternatives []any) (shapes []map[string]any) {
	for _, one := range alternatives {
		shape, isObject := one.(map[string]any)
		if !isObject {
			continue
		}
		shapes = append(shapes, shape)
		if ref, has := shape["$ref"].(string); has {
			shapes = append(shapes, h.shapes([]any{h.find(strings.Split(strings.TrimPrefix(ref, "#/"), "/"))})...)
		}
		for _, choice := range []string{"anyOf", "oneOf", "allOf"} {
			if inner, has := shape[choice].([]any); has {
				shapes = append(shapes, h.shapes(inner)...)
			}
		}
	}
	return shapes
}

// find is what stands at a place of the description; nil for nothing.
func (h *Schema) find(path []string) any {
	at := h.document
	for _, key := range path {
		object, isObject := at.(map[string]any)
		if !isObject {
			return nil
		}
		at = object[key]
	}
	return at
}

func (h *Schema) at(path []string) (*jsonschema.Schema, error) {
	escape := strings.NewReplacer("~", "~0", "/", "~1", "{", "%7B", "}", "%7D")
	pointer := where + "#"
	for _, key := range path {
		pointer += "/" + escape.Replace(key)
	}
	h.mu.Lock()
	defer h.mu.Unlock()
	if schema := h.compiled[pointer]; schema != nil {
		return schema, nil
	}
	schema, err := h.compiler.Compile(pointer)
	h.compiled[pointer] = schema
	return schema, err
}

// inJSON is where the description has the schema of a body, given where it has
// the body.
func inJSON(path ...string) []string { return append(path, "content", "application/json", "schema") }

func (h *Schema) request(s *Server, route *route, c *call) {
	if h == nil || c.Raw == nil {
		return
	}
	var body any = c.Body
	if c.list != nil {
		body = c.list
	}
	h.check(s, "request "+route.method+" "+route.path, body,
		inJSON("paths", route.path, strings.ToLower(route.method), "requestBody")...)
}

func (h *Schema) response(s *Server, route *route, back answer) {
	if h == nil || back.body == nil {
		return
	}
	what := "answer to " + route.method + " " + route.path
	switch {
	case back.status == http.StatusTooManyRequests:
		h.check(s, what, back.body, inJSON("components", "responses", "ClientRatelimitedResponse")...)
		return
	case back.status >= http.StatusBadRequest:
		h.check(s, what, back.body, inJSON("components", "responses", "ClientErrorResponse")...)
		return
	}
	if page, isList := back.body.([]any); isList {
		var plain []any
		for _, one := range page {
			if shape, isObject := one.(map[string]any); !isObject || !odd(shape) {
				plain = append(plain, one)
			}
		}
		back.body = plain
	}
	h.check(s, what, back.body,
		inJSON("paths", route.path, strings.ToLower(route.method), "responses", strconv.Itoa(back.status))...)
}

// event compares what an event carries with the shape REST would show; what
// the gateway adds is allowed there.
func (h *Schema) event(s *Server, kind string, data map[string]any) {
	if h == nil {
		return
	}
	if (kind == "MESSAGE_CREATE" || kind == "MESSAGE_UPDATE") && !odd(data) {
		h.check(s, "event "+kind, data, "components", "schemas", "MessageResponse")
	}
	if kind == "THREAD_CREATE" {
		h.check(s, "event "+kind, data, "components", "schemas", "ThreadResponse")
	}
}

// odd reports whether a message carries what the description does not know: a
// component of a type nobody knows, or a forward, which it leaves out.
func odd(data map[string]any) bool {
	if reference, has := data["message_reference"].(map[string]any); has && reference["type"] == 1 {
		return true
	}
	for _, part := range list(data["components"]) {
		shape, _ := part.(map[string]any)
		if shape["type"] == 4242 {
			return true
		}
	}
	return false
}
