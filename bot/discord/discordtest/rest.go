package discordtest

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"mime"
	"mime/multipart"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"time"
)

// Request is one REST request as it came.
type Request struct {
	Method, Path string // after the version; the path without its query
	Route        string // the path with names in the place of numbers
	Body         map[string]any
	Raw          []byte
	At           time.Time
	Status       int // what was answered; 0: nothing
}

// call is a request on its way through a handler.
type call struct {
	Request
	list  []any // the body where it is a list
	query url.Values
	files []File
	ids   map[string]string
}

func (c *call) id(name string) Snowflake { return number(c.ids[name]) }

func (c *call) text(name string) string {
	text, _ := c.Body[name].(string)
	return text
}

// answer is what goes back.
type answer struct {
	status int
	body   any
}

func ok(body any) answer { return answer{http.StatusOK, body} }

// refusal is one of the platform's errors.
func refusal(status, code int, text string) answer {
	return answer{status, map[string]any{"code": code, "message": text}}
}

var (
	none           = answer{http.StatusNoContent, nil}
	unknownChannel = refusal(http.StatusNotFound, 10003, "Unknown Channel")
	unknownMessage = refusal(http.StatusNotFound, 10008, "Unknown Message")
	unknownGuild   = refusal(http.StatusNotFound, 10004, "Unknown Guild")
	unknownMember  = refusal(http.StatusNotFound, 10007, "Unknown Member")
	unknownWebhook = refusal(http.StatusNotFound, 10015, "Unknown Webhook")
	unknownAsked   = refusal(http.StatusNotFound, 10062, "Unknown interaction")
	noAccess       = refusal(http.StatusForbidden, 50001, "Missing Access")
	notAllowed     = refusal(http.StatusForbidden, 50013, "Missing Permissions")
	notYours       = refusal(http.StatusForbidden, 50005, "Cannot edit a message authored by another user")

	// "When creating a message as a reply to another message, the current user must
	// have the READ_MESSAGE_HISTORY permission" (the platform's reference, Create
	// Message; its description: create_message, 4XX).
	noReply = refusal(http.StatusBadRequest, 160002, "Cannot reply without permission to read message history")

	answeredBefore = refusal(http.StatusBadRequest, 40060, "Interaction has already been acknowledged.")
)

// route is one endpoint; its path is the one of the published description.
type route struct {
	method, path string
	parts        []string
	handle       func(*Server, *call) answer
	open         bool // needs no token of the bot's
}

var endpoints = func() []route {
	list := []route{
		{method: "GET", path: "/gateway", handle: (*Server).getGateway},
		{method: "GET", path: "/gateway/bot", handle: (*Server).getGatewayBot},
		{method: "GET", path: "/users/@me", handle: (*Server).getMe},
		{method: "GET", path: "/applications/@me", handle: (*Server).getApplication},
		{method: "POST", path: "/users/@me/channels", handle: (*Server).openDirect},
		{method: "GET", path: "/channels/{channel_id}", handle: (*Server).getChannel},
		{method: "GET", path: "/channels/{channel_id}/messages", handle: (*Server).history},
		{method: "POST", path: "/channels/{channel_id}/messages", handle: (*Server).createMessage},
		{method: "GET", path: "/channels/{channel_id}/messages/{message_id}", handle: (*Server).getMessage},
		{method: "PATCH", path: "/channels/{channel_id}/messages/{message_id}", handle: (*Server).editMessage},
		{method: "DELETE", path: "/channels/{channel_id}/messages/{message_id}", handle: (*Server).deleteMessage},
		{method: "PUT", path: "/channels/{channel_id}/messages/{message_id}/reactions/{emoji_name}/@me", handle: (*Server).react},
		{method: "GET", path: "/guilds/{guild_id}", handle: (*Server).getGuild},
		{method: "GET", path: "/guilds/{guild_id}/roles", handle: (*Server).getRoles},
		{method: "GET", path: "/guilds/{guild_id}/threads/active", handle: (*Server).getThreads},
		{method: "GET", path: "/guilds/{guild_id}/members/{user_id}", handle: (*Server).getMember},
		{method: "GET", path: "/applications/{application_id}/guilds/{guild_id}/commands", handle: (*Server).getCommands},
		{method: "PUT", path: "/applications/{application_id}/guilds/{guild_id}/commands", handle: (*Server).putCommands},
		{method: "POST", path: "/interactions/{interaction_id}/{interaction_token}/callback", handle: (*Server).callback, open: true},
		{method: "POST", path: "/webhooks/{webhook_id}/{webhook_token}", handle: (*Server).followUp, open: true},
		{method: "GET", path: "/webhooks/{webhook_id}/{webhook_token}/messages/@original", handle: (*Server).original, open: true},
		{method: "PATCH", path: "/webhooks/{webhook_id}/{webhook_token}/messages/@original", handle: (*Server).editOriginal, open: true},
	}
	for i := range list {
		list[i].parts = strings.Split(list[i].path, "/")
	}
	return list
}()

// match finds the endpoint of a path; fixed words win by standing first.
func match(method, path string) (*route, map[string]string) {
	parts := strings.Split(path, "/")
	for i := range endpoints {
		r := &endpoints[i]
		if r.method != method || len(parts) != len(r.parts) {
			continue
		}
		ids, fits := map[string]string{}, true
		for j, part := range r.parts {
			if strings.HasPrefix(part, "{") {
				ids[strings.Trim(part, "{}")] = parts[j]
			} else if part != parts[j] {
				fits = false
			}
		}
		if fits {
			return r, ids
		}
	}
	return nil, nil
}

// serve meets one HTTP request.
func (s *Server) serve(w http.ResponseWriter, r *http.Request) {
	if strings.HasPrefix(r.URL.Path, "/gateway") {
		s.gateway(w, r)
		return
	}
	path, versioned := strings.CutPrefix(r.URL.Path, "/api/v")
	_, path, _ = strings.Cut(path, "/")
	path = "/" + path
	c := &call{Request: Request{Method: r.Method, Path: path}, query: r.URL.Query()}
	if !versioned || c.read(r) != nil {
		http.Error(w, "what is this?", http.StatusBadRequest)
		return
	}
	s.mu.Lock()
	c.At = s.now()
	route, ids := match(r.Method, path)
	if route == nil {
		s.fault("no endpoint %s %s", r.Method, path)
		s.mu.Unlock()
		write(w, refusal(http.StatusNotFound, 0, "404: Not Found"))
		return
	}
	c.ids, c.Route = ids, route.path
	at := len(s.requests)
	s.requests = append(s.requests, c.Request)
	s.stir()
	plan := s.planFor(c)
	s.mu.Unlock()
	if plan.before(w, r) {
		s.settle(at, 0)
		return
	}
	s.mu.Lock()
	back, headers := s.meet(route, c, r)
	s.requests[at].Status = back.status
	s.stir()
	s.mu.Unlock()
	if plan.after(w, r) {
		return
	}
	for key, value := range headers {
		w.Header()[key] = value
	}
	write(w, back)
}

func (s *Server) settle(at, status int) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.requests[at].Status = status
	s.stir()
}

// meet checks and answers; the lock must be held.
func (s *Server) meet(route *route, c *call, r *http.Request) (answer, http.Header) {
	if !route.open && r.Header.Get("Authorization") != "Bot "+Token {
		return refusal(http.StatusUnauthorized, 0, "401: Unauthorized"), nil
	}
	if back, headers, limited := s.limit(route, c); limited {
		s.options.Schema.response(s, route, back)
		return back, headers
	}
	headers := s.limitHeaders(route, c)
	s.options.Schema.request(s, route, c)
	back := route.handle(s, c)
	s.options.Schema.response(s, route, back)
	return back, headers
}

func write(w http.ResponseWriter, back answer) {
	if back.body == nil {
		w.WriteHeader(back.status)
		return
	}
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(back.status)
	json.NewEncoder(w).Encode(back.body) // a client that is gone has no use for it
}

// read takes the body apart: JSON, or a form with JSON and files.
func (c *call) read(r *http.Request) error {
	raw, err := io.ReadAll(io.LimitReader(r.Body, 25<<20))
	if err != nil || len(raw) == 0 {
		return err
	}
	kind, params, err := mime.ParseMediaType(r.Header.Get("Content-Type"))
	if err != nil {
		return err
	}
	if kind == "multipart/form-data" {
		return c.form(multipart.NewReader(bytes.NewReader(raw), params["boundary"]))
	}
	return c.json(raw)
}

func (c *call) json(raw []byte) error {
	c.Raw = raw
	if bytes.HasPrefix(raw, []byte("[")) {
		return json.Unmarshal(raw, &c.list)
	}
	return json.Unmarshal(raw, &c.Body)
}

// form reads a form with JSON and files.
func (c *call) form(form *multipart.Reader) error {
	for {
		part, err := form.NextPart()
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return err
		}
		data, err := io.ReadAll(part)
		if err != nil {
			return err
		}
		if part.FormName() != "payload_json" {
			c.files = append(c.files, File{Name: part.FileName(), Size: len(data)})
			continue
		}
		if err := c.json(data); err != nil {
			return err
		}
	}
}

func (s *Server) getGateway(*call) answer { return ok(map[string]any{"url": s.wsURL()}) }

func (s *Server) getGatewayBot(*call) answer {
	left := 1000 - s.state.identifies
	if s.state.allowed > 0 {
		left = s.state.allowed - s.state.identifies
	}
	return ok(map[string]any{"url": s.wsURL(), "shards": 1, "session_start_limit": map[string]any{
		"total": 1000, "remaining": max(0, left), "reset_after": 14400000, "max_concurrency": 1,
	}})
}

// AllowIdentifies says how many identifies the day has, from the first on.
func (s *Server) AllowIdentifies(n int) { s.set(func(g *gatewayState) { g.allowed = n }) }

func (s *Server) getMe(*call) answer {
	me := s.userJSON(s.users[ApplicationID])
	me["mfa_enabled"], me["locale"] = false, "en-US"
	return ok(me)
}

// getApplication describes the application.
func (s *Server) getApplication(*call) answer {
	flags := 1 << 19 // message content, as a bot in few servers has it
	if s.options.NoContent {
		flags = 0
	}
	return ok(map[string]any{
		"id": ApplicationID, "name": "Rungbook", "icon": nil, "description": "", "type": nil,
		"verify_key": strings.Repeat("0", 64), "flags": flags, "flags_new": strconv.Itoa(flags),
		"redirect_uris": []any{}, "interactions_endpoint_url": nil, "role_connections_verification_url": nil,
		"owner": s.userJSON(s.users[ApplicationID]), "approximate_guild_count": len(s.guilds), "approximate_user_install_count": 0,
		"approximate_user_authorization_count": 0, "explicit_content_filter": 0, "team": nil, "eligible_oauth2_scopes": []any{},
	})
}

func (s *Server) getGuild(c *call) answer {
	g := s.guilds[c.id("guild_id")]
	if g == nil || !g.in(ApplicationID) {
		return unknownGuild
	}
	return ok(s.guildJSON(g))
}

func (s *Server) getRoles(c *call) answer {
	g := s.guilds[c.id("guild_id")]
	if g == nil || !g.in(ApplicationID) {
		return unknownGuild
	}
	return ok(s.rolesJSON(g))
}

func (s *Server) getThreads(c *call) answer {
	g := s.guilds[c.id("guild_id")]
	if g == nil || !g.in(ApplicationID) {
		return unknownGuild
	}
	return ok(map[string]any{"threads": s.threadsJSON(g), "members": []any{}, "has_more": false})
}

// getMember describes somebody in a server.
func (s *Server) getMember(c *call) answer {
	g, id := s.guilds[c.id("guild_id")], c.id("user_id")
	if g == nil || !g.in(ApplicationID) {
		return unknownGuild
	}
	if !g.in(id) {
		return unknownMember
	}
	member := s.memberJSON(g, id)
	member["user"] = s.userJSON(s.users[id])
	return ok(member)
}

func (s *Server) getCommands(c *call) answer {
	g := s.guilds[c.id("guild_id")]
	if g == nil || !g.in(ApplicationID) {
		return noAccess
	}
	return ok(g.commands)
}

// putCommands sets a server's commands.
func (s *Server) putCommands(c *call) answer {
	g := s.guilds[c.id("guild_id")]
	if g == nil || !g.in(ApplicationID) {
		return noAccess
	}
	g.commands = []map[string]any{}
	for i, one := range c.list {
		command, isObject := one.(map[string]any)
		if !isObject {
			return refusal(http.StatusBadRequest, 50035, fmt.Sprintf("Invalid Form Body: %d", i))
		}
		command["id"], command["application_id"], command["version"], command["guild_id"] = s.next(), ApplicationID, s.next(), g.ID
		for key, value := range map[string]any{"default_member_permissions": nil, "type": 1} {
			if _, given := command[key]; !given {
				command[key] = value
			}
		}
		if needs, isNumber := command["default_member_permissions"].(float64); isNumber {
			command["default_member_permissions"] = Snowflake(needs)
		}
		g.commands = append(g.commands, command)
	}
	return ok(g.commands)
}
