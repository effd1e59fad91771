package discord

import (
	"strings"
	"testing"
	"time"
)

func TestRoutes(t *testing.T) {
	for path, want := range map[string]string{
		"/api/v9/channels/11/messages":                         "GET /channels/11/messages",
		"/api/v9/channels/11/messages/22":                      "GET /channels/11/messages/*",
		"/api/v9/channels/11/messages/22/reactions/x/@me":      "GET /channels/11/messages/*/reactions/*/@me",
		"/v9/interactions/33/secret/callback":                  "GET /interactions/*/*/*",
		"/api/v9/guilds/44/members/55":                         "GET /guilds/44/members/*",
		"/api/v9/webhooks/66/secret/messages/@original":        "GET /webhooks/66/secret/messages/@original",
		"/some/base/api/v9/applications/66/guilds/44/commands": "GET /applications/66/guilds/*/commands",
	} {
		if got := routeOf("GET", path); got != want {
			t.Errorf("%s: %q, want %q", path, got, want)
		}
		if route := shown(routeOf("GET", path)); strings.Contains(route, "secret") {
			t.Errorf("an interaction's token is shown: %q", route)
		}
	}
}

// However many come at once, no second sees more than the pace and its burst.
func TestPace(t *testing.T) {
	p := pace{every: time.Second / perSecond, burst: burst}
	now := time.Date(2026, 10, 5, 18, 0, 0, 0, time.UTC)
	var at []time.Time
	for range 500 {
		at = append(at, now.Add(p.take(now)))
	}
	for i := range at {
		if i >= 50 && at[i].Sub(at[i-50]) < time.Second { // the platform's limit
			t.Fatalf("51 requests within %s", at[i].Sub(at[i-50]))
		}
	}
	if last := at[len(at)-1].Sub(now); last > 500*time.Second/50*12/10 {
		t.Errorf("500 take %s: more than 1.2 times the limit's floor", last)
	}
}
