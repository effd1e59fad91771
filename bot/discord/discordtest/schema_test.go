package discordtest

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"mime/multipart"
	"net/http"
	"net/textproto"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// described is the fake with the platform's description, in which each endpoint
// is looked up; without the description there is nothing to compare with.
func described(t *testing.T) *Schema {
	t.Helper()
	data, err := os.ReadFile(filepath.FromSlash("../../../../shared/discord/openapi.json"))
	if errors.Is(err, fs.ErrNotExist) {
		t.Log("the platform's description is not there")
		return nil
	}
	if err != nil {
		t.Fatal(err)
	}
	schema, err := NewSchema(data)
	if err != nil {
		t.Fatal(err)
	}
	return schema
}

// Each endpoint of the fake is one of the platform's, and what goes either way
// there is described.
func TestEveryEndpointIsDescribed(t *testing.T) {
	schema := described(t)
	if schema == nil {
		return
	}
	for _, route := range endpoints {
		operation := []string{"paths", route.path, strings.ToLower(route.method)}
		if schema.find(operation) == nil {
			t.Errorf("no %s %s", route.method, route.path)
			continue
		}
		at := func(more ...string) bool {
			return schema.find(append(append([]string{}, operation...), more...)) != nil
		}
		if body := at("requestBody", "content", "application/json", "schema"); body != (route.method == "POST" || route.method == "PATCH" || strings.HasSuffix(route.path, "/commands") && route.method == "PUT") {
			t.Errorf("%s %s: a request's body is described: %t", route.method, route.path, body)
		}
		if !at("responses", "200", "content", "application/json", "schema") && !at("responses", "204") {
			t.Errorf("%s %s: no answer is described", route.method, route.path)
		}
	}
}

// What is wrong in a body of any kind is found, and nothing in those that are
// right: every first answer to an interaction, what comes after it, messages
// with files, commands.
func TestEveryKindOfBodyIsCompared(t *testing.T) {
	schema := described(t)
	if schema == nil {
		return
	}
	const (
		callback = "POST /interactions/{interaction}/{token}/callback"
		follow   = "POST /webhooks/{app}/{token}"
		original = "PATCH /webhooks/{app}/{token}/messages/@original"
		create   = "POST /channels/{channel}/messages"
		edit     = "PATCH /channels/{channel}/messages/{message}"
		commands = "PUT /applications/{app}/guilds/{guild}/commands"
		direct   = "POST /users/@me/channels"
	)
	button := `{"type":1,"components":[{"type":2,"style":2,"label":"Take back","custom_id":"x"}]}`
	for _, c := range []struct{ route, body, wrong string }{ // wrong: what is put in the place of what, as old=new
		{callback, `{"type":4,"data":{"content":"x","flags":64,"components":[` + button + `],"allowed_mentions":{"parse":[]}}}`, `"flags":64="flags":"64"`},
		{callback, `{"type":4,"data":{"content":"x"}}`, `"content"="contnet"`},
		{callback, `{"type":4,"data":{"content":"x","components":[` + button + `]}}`, `"style":2="style":22`},
		{callback, `{"type":5,"data":{"flags":64}}`, `"flags":64="flags":"64"`},
		{callback, `{"type":6}`, `6=66`},
		{callback, `{"type":8,"data":{"choices":[{"name":"a","value":"a"}]}}`, `"name":"a",=`},
		{callback, `{"type":8,"data":{"choices":[]}}`, `"choices":[]="choices":"a"`},
		{callback, `{"type":9,"data":{"custom_id":"f","title":"/setup","components":[{"type":1,"components":[{"type":4,"custom_id":"day","label":"Day","style":1,"required":true,"placeholder":"Thu"}]}]}}`, `"title":"/setup",=`},
		{callback, `{"type":9,"data":{"custom_id":"f","title":"/setup","components":[{"type":1,"components":[{"type":4,"custom_id":"day","label":"Day","style":1}]}]}}`, `"style":1="style":7`},
		{follow, `{"content":"x","flags":64}`, `"content":"x"="content":5`},
		{original, `{"content":"x","components":[],"allowed_mentions":{"parse":[]}}`, `"parse":[]="parse":["nobody"]`},
		{original, `{"content":"x","attachments":[{"id":"0","filename":"a.json","description":"a"}]}`, `"filename":"a.json"="filename":5`},
		{create, `{"content":"x","nonce":"abc","enforce_nonce":true,"message_reference":{"message_id":"1","fail_if_not_exists":false}}`, `true="yes"`},
		{create, `{"content":"x","allowed_mentions":{"parse":[],"replied_user":false}}`, `"replied_user"="replied_usr"`},
		{edit, `{"content":"x","components":[` + button + `]}`, `"custom_id":"x"="custom_id":5`},
		{direct, `{"recipient_id":"1"}`, `"recipient_id":"1"="recipient_id":"one"`},
		{commands, `[{"name":"log","description":"x","options":[{"type":3,"name":"text","description":"x","autocomplete":true}]}]`, `"name":"log",=`},
	} {
		for _, broken := range []bool{false, true} {
			body := c.body
			if broken {
				before, after, _ := strings.Cut(c.wrong, "=")
				if !strings.Contains(body, before) {
					t.Fatalf("%s is not in %s", before, body)
				}
				body = strings.Replace(body, before, after, 1)
			}
			for _, form := range []bool{false, true} {
				if form && (c.route == direct || c.route == commands) {
					continue
				}
				if faults := sendTo(t, schema, c.route, body, form); broken != (len(faults) > 0) {
					t.Errorf("%s, as a form %t: %s: faults %q", c.route, form, body, faults)
				}
			}
		}
	}
}

// sendTo sends one body to a fake of its own, and returns in what it is not as
// described.
func sendTo(t *testing.T, schema *Schema, route, body string, form bool) []string {
	t.Helper()
	s := New(Options{Schema: schema})
	defer s.Close()
	guild := s.Guild("Tidewater Rings")
	channel, priya := s.Channel(guild, "rings"), s.Person("Priya")
	s.Join(guild, priya)
	asked := s.Slash(channel, priya, "gates")
	own := s.Post(&Message{Channel: channel, Author: s.users[ApplicationID], Text: "x"})
	if !strings.Contains(route, "callback") {
		s.mu.Lock()
		asked.Callback, asked.Answer = Says, own
		s.mu.Unlock()
	}
	method, path, _ := strings.Cut(route, " ")
	path = strings.NewReplacer("{interaction}", asked.ID.String(), "{token}", asked.Token, "{app}", ApplicationID.String(), "{channel}", channel.ID.String(),
		"{message}", own.ID.String(), "{guild}", guild.ID.String()).Replace(path)
	kind, raw := "application/json", []byte(body)
	if form {
		kind, raw = asForm(t, body)
	}
	r, err := http.NewRequest(method, s.URL()+"/v9"+path, bytes.NewReader(raw))
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Authorization", "Bot "+Token)
	r.Header.Set("Content-Type", kind)
	resp, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	resp.Body.Close()
	http.DefaultClient.CloseIdleConnections()
	var faults []string
	for _, fault := range s.Faults() {
		if strings.HasPrefix(fault, "request ") { // the others are of rules beyond the description
			faults = append(faults, fault)
		}
	}
	return faults
}

func asForm(t *testing.T, body string) (kind string, raw []byte) {
	var out bytes.Buffer
	form := multipart.NewWriter(&out)
	part, err := form.CreatePart(textproto.MIMEHeader{"Content-Disposition": {`form-data; name="payload_json"`}, "Content-Type": {"application/json"}})
	if err != nil {
		t.Fatal(err)
	}
	fmt.Fprint(part, body)
	file, err := form.CreateFormFile("files[0]", "a.json")
	if err != nil {
		t.Fatal(err)
	}
	fmt.Fprint(file, "{}")
	if err := form.Close(); err != nil {
		t.Fatal(err)
	}
	return form.FormDataContentType(), out.Bytes()
}
