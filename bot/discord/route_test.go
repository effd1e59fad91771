package discord

import (
	"strings"
	"testing"
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
