package bot_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"rungbook/bot"
	"rungbook/store"
)

// asked is each command with values that fit, and who may give it: the
// contract's table, written down again by hand.
var asked = []struct {
	text string
	who  []string // of the speakers below
}{
	{"/help", everybody},
	{"/log text:\"3x20s high hold\"", unblocked},
	{"/undo", trained},
	{"/gates", trained},
	{"/history weeks:2", trained},
	{"/next", trained},
	{"/next member:Wen", coaches},
	{"/away from:2026-10-20 until:2026-10-25", trained},
	{"/pause", trained},
	{"/me zone:Europe/Madrid", trained},
	{"/mydata export", trained},
	{"/mydata erase", trained},
	{"/coach digest", coaches},
	{"/coach roster", coaches},
	{"/coach witness member:Wen gate:\"deep hang\"", coaches},
	{"/coach unwitness member:Wen gate:\"deep hang\"", coaches},
	{"/coach pause member:Wen", coaches},
	{"/coach resume member:Wen", coaches},
	{"/coach correct member:Wen day:2026-10-12 text:none", coaches},
	{"/coach days Mon Thu", coaches},
	{"/coach programme take name:strict-handstand confirm:yes", coaches},
	{"/coach member name:Wen zone:Europe/Madrid", coaches},
	{"/gates member:Wen", coaches},
	{"/history member:Wen", coaches},
	{"/log member:Wen text:\"3x20s high hold\"", coaches},
	{"/setup zone:Europe/Lisbon", managers},
}

// The speakers: a member, one in each state, a coach, a stranger, a manager who
// is no member, and somebody erased.
var (
	everybody = []string{"Priya", "Sanna", "Bako", "Mirela", "Ilda", "Noor", "Rui", "Tomé"}
	unblocked = []string{"Priya", "Sanna", "Bako", "Mirela", "Ilda", "Noor", "Rui"}
	trained   = []string{"Priya", "Sanna", "Bako", "Mirela", "Ilda"}
	coaches   = []string{"Ilda"}
	managers  = []string{"Rui"}
)

// publicly are the commands answered where they were given.
var publicly = []string{"log", "undo"}

// TestEveryCommandByRoleAndState holds P9. It gives every command to everybody:
// who may not is refused privately and nothing is written; who may is answered
// where the contract says.
func TestEveryCommandByRoleAndState(t *testing.T) {
	covered := map[string]bool{}
	for _, one := range asked {
		covered[commandOf(one.text)] = true
		for _, name := range everybody {
			t.Run(name+" "+one.text, func(t *testing.T) {
				h := newHouse(t, "")
				h.states()
				before := h.dump()
				posts := h.says("2026-10-14 19:00", name, one.text)
				if slices.Contains(one.who, name) {
					h.granted(one.text, posts)
					return
				}
				if !h.refused(name, posts) {
					t.Errorf("want one private refusal, got\n%s", texts(posts))
				}
				if after := h.dump(); after != before {
					t.Errorf("a refusal wrote:\n%s\nbefore:\n%s", after, before)
				}
			})
		}
	}
	for _, command := range bot.Commands() {
		if !covered[command.Name] {
			t.Errorf("/%s is in the table and not in this test", command.Name)
		}
	}
}

// What names somebody is refused alone, however the option is spelt; what does
// not, where it was said.
func TestRefusalThatNamesSomebody(t *testing.T) {
	for text, want := range map[string]bot.Audience{
		`/log 3x20s support day:someday`:             bot.ToChannel,
		`/log 3x20s support member:Nobody`:           bot.ToPrivate,
		`/log 3x20s support MEMBER:Nobody`:           bot.ToPrivate,
		`/log Member:Nobody text:"3x20s support"`:    bot.ToPrivate,
		"/LOG text:\"3x20s support\"\nmEmBeR:Nobody": bot.ToPrivate,
	} {
		h := newHouse(t, "")
		posts := h.says("2026-10-14 19:00", "Ilda", text)
		if len(posts) != 1 || posts[0].To != want || strings.Contains(posts[0].Text, "Nobody") != (want == bot.ToPrivate) {
			t.Errorf("%q: want one refusal %s, got\n%s", text, want, texts(posts))
		}
	}
}

// tapped is each button, the message of Priya's whose answer carries it, and who
// may press it.
var tapped = []struct {
	button bot.Button
	under  string
	who    []string
}{
	{bot.TapWithdraw, "3x20s high hold", []string{"Priya"}},
	{bot.TapGates, "3x20s high hold", trained},
	{bot.TapNext, "3x20s high hold", trained},
	{bot.TapWitness, "3x30s deep hang", coaches},
	{bot.TapResume, "my elbow hurts", coaches},
	{bot.TapMisread, "my elbow hurts", []string{"Priya"}},
	{bot.TapTell, "muscle-up 1/3", []string{"Priya"}},
	{bot.TapKeep, "two days, or so", []string{"Priya"}},
	{bot.TapDrop, "two days, or so", []string{"Priya"}},
	{bot.TapHurts, "elbow feels odd", []string{"Priya"}},
	{bot.TapFine, "elbow feels odd", []string{"Priya"}},
}

// TestEveryButtonByRoleAndState holds P9. It lets everybody press every button:
// who may not is refused privately and nothing is written.
func TestEveryButtonByRoleAndState(t *testing.T) {
	covered := map[bot.Button]bool{}
	for _, one := range tapped {
		covered[one.button] = true
		for _, name := range everybody {
			t.Run(name+" "+string(one.button), func(t *testing.T) {
				h := newHouse(t, "")
				h.script()
				h.states()
				offered := false
				for _, post := range h.says("2026-10-14 19:00", "Priya", one.under) {
					offered = offered || slices.Contains(post.Buttons, one.button)
				}
				if !offered && one.button != bot.TapWitness { // a coach's, offered nowhere yet
					t.Errorf("%q is answered without %s", one.under, one.button)
				}
				before := h.dump()
				posts := h.taps("2026-10-14 19:01", name, one.button, h.last, "Priya")
				switch may := slices.Contains(one.who, name); {
				case may && len(posts) == 0:
					t.Error("no answer")
				case !may && !h.refused(name, posts):
					t.Errorf("want one private refusal, got\n%s", texts(posts))
				case !may && h.dump() != before:
					t.Errorf("a refusal wrote:\n%s\nbefore:\n%s", h.dump(), before)
				}
			})
		}
	}
	for _, button := range bot.Buttons() {
		if !covered[button] {
			t.Errorf("%s is not in this test", button)
		}
	}
}

// states puts Sanna into a pause, Bako away, Mirela into her return, and erases
// Tomé.
func (h *house) states() {
	h.says("2026-10-12 18:00", "Wen", "3x30s deep hang")
	h.says("2026-10-12 18:01", "Mirela", "3x20s deep hang")
	h.says("2026-10-12 19:00", "Sanna", "/pause")
	h.says("2026-10-12 19:01", "Bako", "/away until:2026-11-30")
	h.says("2026-10-12 19:02", "Mirela", "/pause")
	h.says("2026-10-13 19:02", "Ilda", "/coach resume member:Mirela")
	h.says("2026-10-13 19:03", "Ilda", "/coach witness member:Wen gate:support")
	h.says("2026-10-13 19:04", "Tomé", "/mydata erase")
}

// refused reports whether the posts are one private refusal.
func (h *house) refused(name string, posts []bot.Post) bool {
	if len(posts) != 1 {
		return false
	}
	post := posts[0]
	return post.Kind == bot.Reply && post.To == bot.ToPrivate && post.Person == h.cast[name].ID && post.Facts == nil
}

func (h *house) granted(text string, posts []bot.Post) {
	h.t.Helper()
	if len(posts) == 0 {
		h.t.Fatal("no answer")
	}
	want := bot.ToPrivate
	if slices.Contains(publicly, commandOf(text)) && !strings.Contains(text, "member:") {
		want = bot.ToChannel
	}
	for _, post := range posts {
		if post.Kind == bot.Fault || post.Kind == bot.Reply && post.To != want && post.Facts != nil {
			h.t.Errorf("want the answer to %s %s, got\n%s", text, want, texts(posts))
		}
	}
}

func commandOf(text string) string {
	words := strings.Fields(strings.TrimPrefix(text, "/"))
	if words[0] == "coach" {
		return words[0] + " " + words[1]
	}
	return words[0]
}

// dump is every row of every table that the bot reads, as text.
func (h *house) dump() string {
	var out strings.Builder
	err := store.As[bot.Tx]{DB: h.db}.View(h.t.Context(), func(tx bot.Tx) error {
		settled, _, err := tx.Team(team)
		if err != nil {
			return err
		}
		roster, err := tx.Roster(team)
		if err != nil {
			return err
		}
		fmt.Fprintln(&out, settled)
		for _, member := range roster {
			record, err := tx.Record(team, member.ID)
			if err != nil {
				return err
			}
			running, ok, err := tx.Running(team, member.ID)
			if err != nil {
				return err
			}
			fmt.Fprintf(&out, "%v\n%v\n%v %v\n", member, record, running, ok)
		}
		return nil
	})
	if err != nil {
		h.t.Fatal(err)
	}
	return out.String()
}
