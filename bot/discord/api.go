package discord

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"mime/multipart"
	"net"
	"net/http"
	"net/textproto"
	"net/url"
	"strconv"
	"strings"
	"time"

	"github.com/bwmarrin/discordgo"

	"rungbook/bot"
	"rungbook/bot/outbox"
)

// defaultAPI is the platform's public address, without the version.
const defaultAPI = "https://discord.com/api"

// requestTime bounds one request, its wait for the pace included.
const requestTime = 30 * time.Second

// api speaks the platform's REST through the library, which is given a fresh
// bucket for each request: its own limiter sleeps without regard to the
// context, and ours does that work.
type api struct {
	session *discordgo.Session
	slow    *discordgo.Session // for requests that nobody waits for
	limiter *limiter
}

// newAPI makes the API at the base; empty for the public one. The clock is that
// of the timers that wait.
func newAPI(token, base string, clock func() time.Time) (*api, error) {
	if base == "" {
		base = defaultAPI
	}
	at, err := url.Parse(strings.TrimRight(base, "/"))
	if err != nil || at.Host == "" || at.Scheme != "http" && at.Scheme != "https" {
		return nil, fmt.Errorf("read the API's address %q: want one as %s", base, defaultAPI)
	}
	a := &api{limiter: newLimiter(at, http.DefaultTransport.(*http.Transport).Clone(), clock)}
	if a.session, err = newSession(token, lane{a.limiter, false}); err != nil {
		return nil, err
	}
	a.slow, err = newSession(token, lane{a.limiter, true})
	return a, err
}

// background is the API for requests that nobody waits for: they leave room for
// the others.
func (a *api) background() *api { return &api{session: a.slow, slow: a.slow, limiter: a.limiter} }

// newSession makes one of the library's sessions that goes our way and is
// silent.
func newSession(token string, way http.RoundTripper) (*discordgo.Session, error) {
	session, err := discordgo.New("Bot " + token)
	if err != nil {
		return nil, fmt.Errorf("make a session: %w", err)
	}
	session.Client = &http.Client{Transport: way, Timeout: requestTime}
	session.LogLevel = -1 // below the library's lowest: all it has to say comes back as errors
	session.StateEnabled = false
	session.ShouldReconnectOnError = false
	session.ShouldRetryOnRateLimit = false
	session.MaxRestRetries = 0
	session.UserAgent = "DiscordBot (rungbook, 1)"
	return session, nil
}

func (a *api) close() {
	if t, ok := a.limiter.next.(*http.Transport); ok {
		t.CloseIdleConnections()
	}
}

// refusal is one of the platform's errors.
type refusal struct {
	status, code int
	route        string
}

func (r *refusal) Error() string {
	return fmt.Sprintf("%s: refused with status %d, code %d", r.route, r.status, r.code)
}

// The platform's error codes that are acted on, from its reference.
const (
	codeUnknownChannel = 10003
	codeUnknownGuild   = 10004
	codeUnknownMember  = 10007
	codeUnknownMessage = 10008
	codeUnknownUser    = 10013
	codeUnknownWebhook = 10015
	codeUnknownAsked   = 10062
	codeAnswered       = 40060
	codeNoAccess       = 50001
	codeClosed         = 50007
	codeClosedToo      = 50278
	codeInvalidToken   = 50027
	codeNoReply        = 160002
)

// refusedFor reports whether the platform refused with one of its error codes.
func refusedFor(err error, codes ...int) bool {
	var r *refusal
	if !errors.As(err, &r) {
		return false
	}
	for _, code := range codes {
		if r.code == code {
			return true
		}
	}
	return false
}

// call makes one request. body is JSON-able or nil, into a pointer or nil.
func (a *api) call(ctx context.Context, method, path string, body any, files []bot.File, into any) error {
	kind, raw, err := encode(body, files)
	if err != nil {
		return fmt.Errorf("%s: encode: %w", method, err)
	}
	bucket := discordgo.NewRatelimiter().LockBucket(method)
	answer, err := a.session.RequestWithLockedBucket(method, discordgo.EndpointAPI+path, kind, raw, bucket, 0,
		discordgo.WithContext(ctx), discordgo.WithRestRetries(0), discordgo.WithRetryOnRatelimit(false))
	if err != nil {
		return classify(shown(routeOf(method, "/v9/"+path)), err)
	}
	if into == nil || len(answer) == 0 {
		return nil
	}
	if err := json.Unmarshal(answer, into); err != nil {
		return fmt.Errorf("%s: read answer: %w", shown(routeOf(method, "/v9/"+path)), err)
	}
	return nil
}

// classify makes an error of ours: the library's carries the request with its
// headers, the token among them, and addresses with tokens of interactions.
func classify(route string, err error) error {
	var rest *discordgo.RESTError
	var rate *outbox.RateError
	var dial *net.OpError
	switch {
	case errors.As(err, &rate):
		return rate
	case errors.Is(err, errDenied):
		return fmt.Errorf("%s: %w: %w", route, errDenied, outbox.ErrUnsent)
	case errors.Is(err, context.Canceled):
		return fmt.Errorf("%s: %w", route, context.Canceled)
	case errors.Is(err, context.DeadlineExceeded):
		return fmt.Errorf("%s: %w", route, context.DeadlineExceeded)
	case errors.As(err, &rest):
		r := &refusal{status: rest.Response.StatusCode, route: route}
		if rest.Message != nil {
			r.code = rest.Message.Code
		}
		return r
	case errors.As(err, &dial) && dial.Op == "dial":
		return fmt.Errorf("%s: the platform cannot be reached: %w", route, outbox.ErrUnsent)
	}
	return fmt.Errorf("%s: no answer", route)
}

// encode writes JSON, or a form with JSON and files.
func encode(body any, files []bot.File) (kind string, raw []byte, err error) {
	if body == nil {
		return "", nil, nil
	}
	plain, err := json.Marshal(body)
	if err != nil || len(files) == 0 {
		return "application/json", plain, err
	}
	var out bytes.Buffer
	form := multipart.NewWriter(&out)
	head := textproto.MIMEHeader{"Content-Disposition": {`form-data; name="payload_json"`}, "Content-Type": {"application/json"}}
	part, err := form.CreatePart(head)
	if err != nil {
		return "", nil, err
	}
	part.Write(plain) // a buffer takes all
	for i, file := range files {
		part, err := form.CreateFormFile("files["+strconv.Itoa(i)+"]", file.Name)
		if err != nil {
			return "", nil, err
		}
		part.Write(file.Data)
	}
	if err := form.Close(); err != nil {
		return "", nil, err
	}
	return form.FormDataContentType(), out.Bytes(), nil
}

func (a *api) self(ctx context.Context) (u user, err error) {
	err = a.call(ctx, "GET", "users/@me", nil, nil, &u)
	return u, err
}

// starts is how many identifies the day has left, and when it begins anew.
func (a *api) starts(ctx context.Context) (left int, reset time.Duration, err error) {
	var said struct {
		Limit struct {
			Remaining int   `json:"remaining"`
			Reset     int64 `json:"reset_after"` // ms
		} `json:"session_start_limit"`
	}
	err = a.call(ctx, "GET", "gateway/bot", nil, nil, &said)
	return said.Limit.Remaining, time.Duration(said.Limit.Reset) * time.Millisecond, err
}

func (a *api) guild(ctx context.Context, id snowflake) (*guild, error) {
	g := &guild{}
	return g, a.call(ctx, "GET", "guilds/"+id.String(), nil, nil, g)
}

func (a *api) member(ctx context.Context, server, id snowflake) (*member, error) {
	m := &member{}
	return m, a.call(ctx, "GET", "guilds/"+server.String()+"/members/"+id.String(), nil, nil, m)
}

func (a *api) channel(ctx context.Context, id snowflake) (*channel, error) {
	c := &channel{}
	return c, a.call(ctx, "GET", "channels/"+id.String(), nil, nil, c)
}

// threads lists the threads under the channel that are not archived.
func (a *api) threads(ctx context.Context, server, parent snowflake) (ids []snowflake, err error) {
	var all struct {
		Threads []channel `json:"threads"`
	}
	err = a.call(ctx, "GET", "guilds/"+server.String()+"/threads/active", nil, nil, &all)
	for _, t := range all.Threads {
		if t.Parent == parent {
			ids = append(ids, t.ID)
		}
	}
	return ids, err
}

func (a *api) openDirect(ctx context.Context, person snowflake) (snowflake, error) {
	var c channel
	err := a.call(ctx, "POST", "users/@me/channels", map[string]any{"recipient_id": person}, nil, &c)
	return c.ID, err
}

func messagePath(channel, id snowflake) string {
	return "channels/" + channel.String() + "/messages/" + id.String()
}

func (a *api) create(ctx context.Context, channel snowflake, b body) (snowflake, error) {
	var m message
	err := a.call(ctx, "POST", "channels/"+channel.String()+"/messages", b, b.files, &m)
	if err == nil && m.ID == 0 {
		err = errNoMessage
	}
	return m.ID, err
}

// errNoMessage says that the platform took a message and named none: it may be there,
// and the same nonce tells.
var errNoMessage = errors.New("the answer to a creation names no message")

func (a *api) edit(ctx context.Context, channel, id snowflake, b body) error {
	return a.call(ctx, "PATCH", messagePath(channel, id), b, b.files, nil)
}

// remove removes one of the bot's messages; one that is gone is well.
func (a *api) remove(ctx context.Context, channel, id snowflake) error {
	err := a.call(ctx, "DELETE", messagePath(channel, id), nil, nil, nil)
	if refusedFor(err, codeUnknownMessage, codeUnknownChannel) {
		return nil
	}
	return err
}

// markSign is the reaction that stands for the mark: the platform takes no
// plain ✓ (U+2713), only the emoji of it.
const markSign = "✔️"

func (a *api) mark(ctx context.Context, channel, id snowflake) error {
	return a.call(ctx, "PUT", messagePath(channel, id)+"/reactions/"+url.PathEscape(markSign)+"/@me", nil, nil, nil)
}

// respond gives the first answer to an interaction.
func (a *api) respond(ctx context.Context, i *interaction, kind int, data any, files []bot.File) (snowflake, error) {
	var back struct {
		Interaction struct {
			Message snowflake `json:"response_message_id"`
		} `json:"interaction"`
	}
	path := "interactions/" + i.ID.String() + "/" + i.Token + "/callback?with_response=true"
	err := a.call(ctx, "POST", path, map[string]any{"type": kind, "data": data}, files, &back)
	return back.Interaction.Message, err
}

func (a *api) followUp(ctx context.Context, i *interaction, b body) (snowflake, error) {
	var m message
	err := a.call(ctx, "POST", "webhooks/"+i.App.String()+"/"+i.Token+"?wait=true", b, b.files, &m)
	return m.ID, err
}

func (a *api) editOriginal(ctx context.Context, i *interaction, b body) (snowflake, error) {
	var m message
	err := a.call(ctx, "PATCH", "webhooks/"+i.App.String()+"/"+i.Token+"/messages/@original", b, b.files, &m)
	return m.ID, err
}
