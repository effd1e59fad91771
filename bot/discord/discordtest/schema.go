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

// check compares a value with what stands at a place of the description; the
// fake's lock must be held.
func (h *Schema) check(s *Server, what string, value any, path ...string) {
	if h == nil || !h.has(path) {
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
}

func (h *Schema) has(path []string) bool {
	at := h.document
	for _, key := range path {
		object, isObject := at.(map[string]any)
		if !isObject || object[key] == nil {
			return false
		}
		at = object[key]
	}
	return true
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

func (h *Schema) request(s *Server, route *route, c *call) {
	if h == nil || c.Raw == nil {
		return
	}
	var body any = c.Body
	if c.list != nil {
		body = c.list
	}
	h.check(s, "request "+route.method+" "+route.path, body, "paths", route.path, strings.ToLower(route.method), "requestBody", "content", "application/json", "schema")
}

func (h *Schema) response(s *Server, route *route, back answer) {
	if h == nil || back.body == nil || back.status >= http.StatusBadRequest {
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
	h.check(s, "answer to "+route.method+" "+route.path, back.body,
		"paths", route.path, strings.ToLower(route.method), "responses", strconv.Itoa(back.status), "content", "application/json", "schema")
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
