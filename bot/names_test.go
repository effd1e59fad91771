package bot_test

import (
	"strings"
	"testing"

	"rungbook/bot"
	"rungbook/store"
	"rungbook/training"
)

// namesake puts somebody with another's name on the roster, as a member or, as
// somebody who has left, off it.
func (h *house) namesake(id training.PersonID, name string, trains bool) bot.Author {
	h.t.Helper()
	at := h.at("2026-10-05 08:00")
	err := h.db.Update(h.t.Context(), func(tx *store.Tx) error {
		return tx.PutMember(team, training.Member{
			ID: id, Name: name, Zone: h.zone, Since: at, Joined: training.DayOf(at, h.zone), Trains: trains, Nudges: true,
		})
	})
	if err != nil {
		h.t.Fatal(err)
	}
	return bot.Author{ID: id, Name: name}
}

// A member who is called as another names nobody's record by that: neither to read
// it nor to write into it.
func TestANamesakeReadsAndWritesNothing(t *testing.T) {
	for _, command := range []string{
		"/gates member:Priya", "/history member:priya", "/next member:@PRIYA", "/log member:Priya text:\"3x20s high hold\"",
		"/gates member:<@3>", "/history member:<@!3>", "/next member:<@3>", "/log text:\"3x20s high hold\" member:<@3>",
	} {
		for name, impostor := range map[string]func(h *house) bot.Author{
			"on the roster": func(h *house) bot.Author { return h.namesake(50, "Priya", true) },
			"a stranger":    func(h *house) bot.Author { return bot.Author{ID: 50, Name: "Priya"} },
			"called as a mention": func(h *house) bot.Author {
				return h.namesake(50, "<@3>", true)
			},
			"renamed since": func(h *house) bot.Author {
				who := h.namesake(50, "Zoe", true)
				who.Name = "Priya"
				return who
			},
		} {
			h := newHouse(t, "")
			h.says("2026-10-06 19:00", "Priya", "3x18s high hold")
			h.says("2026-10-06 19:01", "Priya", "/pause")
			h.cast["impostor"] = impostor(h)
			before := h.dump()
			posts := h.says("2026-10-06 20:00", "impostor", command)
			if !h.refused("impostor", posts) || strings.Contains(posts[0].Text, "aused") {
				t.Errorf("%s, %s: want one private refusal, got\n%s", name, command, texts(posts))
			}
			if after := h.dump(); after != before {
				t.Errorf("%s, %s wrote:\n%s\nbefore:\n%s", name, command, after, before)
			}
		}
	}
}

// A member may name themselves: by mention, whoever is called alike, and by a name
// that is theirs alone.
func TestAMemberNamesThemselves(t *testing.T) {
	h := newHouse(t, "")
	h.says("2026-10-06 19:00", "Priya", "3x18s high hold")
	for _, own := range []string{"Priya", "@priya", "<@3>", "<@!3>"} {
		if posts := h.says("2026-10-06 20:00", "Priya", "/history member:"+own); !strings.Contains(texts(posts), "18 s") {
			t.Errorf("%s: got\n%s", own, texts(posts))
		}
	}
	h.namesake(50, "Priya", false)
	if posts := h.says("2026-10-06 20:00", "Priya", "/history member:<@3>"); !strings.Contains(texts(posts), "18 s") {
		t.Errorf("mentioned: got\n%s", texts(posts))
	}
	if posts := h.says("2026-10-06 20:00", "Priya", "/history member:Priya"); !h.refused("Priya", posts) {
		t.Errorf("a name of two: got\n%s", texts(posts))
	}
}

// A name that several have names nobody to a coach or a manager; a mention does,
// whatever anybody is called.
func TestANameOfSeveralIsRefused(t *testing.T) {
	for _, one := range []struct{ who, command string }{
		{"Ilda", "/gates member:Wen"},
		{"Ilda", "/history member:wen"},
		{"Ilda", "/next member:@Wen"},
		{"Ilda", "/log member:Wen text:\"3x20s high hold\""},
		{"Ilda", "/coach witness member:Wen gate:\"deep hang\""},
		{"Ilda", "/coach unwitness member:Wen gate:\"deep hang\""},
		{"Ilda", "/coach pause member:Wen"},
		{"Ilda", "/coach pause member:Wen has a sore elbow"},
		{"Ilda", "/coach resume member:Wen"},
		{"Ilda", "/coach correct member:Wen day:2026-10-06 text:none"},
		{"Ilda", "/coach member name:Wen zone:Europe/Madrid"},
		{"Rui", "/setup coach:Wen"},
	} {
		h := newHouse(t, "")
		h.namesake(50, "Wen", true)
		h.namesake(51, "<@4>", true)
		before := h.dump()
		posts := h.says("2026-10-06 20:00", one.who, one.command)
		if !h.refused(one.who, posts) || !strings.Contains(posts[0].Text, "<@4>") || !strings.Contains(posts[0].Text, "<@50>") {
			t.Errorf("%s: want one private refusal that names both, got\n%s", one.command, texts(posts))
		}
		if after := h.dump(); after != before {
			t.Errorf("%s wrote:\n%s\nbefore:\n%s", one.command, after, before)
		}
		told := h.says("2026-10-06 20:01", one.who, strings.NewReplacer("Wen", "<@50>", "wen", "<@50>", "@Wen", "<@50>").Replace(one.command))
		if strings.Contains(texts(told), "Several") {
			t.Errorf("%s, by mention: got\n%s", one.command, texts(told))
		}
	}
	h := newHouse(t, "")
	h.namesake(50, "<@4>", true)
	h.says("2026-10-06 19:00", "Wen", "3x18s high hold")
	if posts := h.says("2026-10-06 20:00", "Ilda", "/history member:<@4>"); !strings.Contains(texts(posts), "18 s") {
		t.Errorf("a mention, and somebody called so: got\n%s", texts(posts))
	}
}

// A name that somebody on the roster shares with somebody the message mentions, say
// because it replies to them, is refused too.
func TestANameOfSomebodyMentionedToo(t *testing.T) {
	h := newHouse(t, "")
	h.last++
	posts := h.step(bot.Message{
		ID: h.last, Team: team, Author: h.cast["Ilda"], Place: bot.Channel, At: h.at("2026-10-06 20:00"), Text: "/coach pause member:Wen",
		Mentioned: []bot.Author{{ID: 60, Name: "wen"}},
	})
	if !h.refused("Ilda", posts) {
		t.Errorf("want one private refusal, got\n%s", texts(posts))
	}
}

// What a coach is told of people who are called alike tells them apart, and of each
// what is true of them.
func TestACoachIsToldWhichOfTwo(t *testing.T) {
	h := newHouse(t, "")
	h.cast["other"] = h.namesake(50, "wen", true)
	if notice := texts(h.says("2026-10-06 19:00", "Wen", "/pause")); !strings.Contains(notice, "Wen (<@4>) is paused") {
		t.Errorf("notice\n%s", notice)
	}
	h.says("2026-10-06 19:01", "other", "3x18s high hold")
	roster := texts(h.says("2026-10-07 19:00", "Ilda", "/coach roster"))
	for _, want := range []string{
		"Wen (<@4>): Europe/Lisbon, joined 5 Oct, paused", "wen (<@50>): Europe/Lisbon, joined 5 Oct, last session 6 Oct", "Priya: ",
	} {
		if !strings.Contains(roster, want) {
			t.Errorf("want %q in\n%s", want, roster)
		}
	}
	if digest := texts(h.says("2026-10-07 19:00", "Ilda", "/coach digest")); !strings.Contains(digest, "wen (<@50>): 1") {
		t.Errorf("digest\n%s", digest)
	}
}

// A coach named by hand is one until /coach member remove:; then the pauses that run
// wait for the next, who is told of each once.
func TestACoachNamedByHandIsRemoved(t *testing.T) {
	h := newHouse(t, "")
	h.says("2026-10-06 19:00", "Priya", "/pause")
	if told := texts(h.says("2026-10-06 19:30", "Ilda", "/coach member name:Ilda remove:yes")); !strings.Contains(told, "Ilda is no coach here any more") {
		t.Errorf("removed:\n%s", told)
	}
	if posts := h.says("2026-10-06 20:00", "Wen", "/pause"); strings.Contains(texts(posts), "notice") {
		t.Errorf("a pause with no coach left:\n%s", texts(posts))
	}
	if posts := h.step(bot.CoachGone{Team: team, Coach: h.cast["Ilda"].ID, At: h.at("2026-10-06 20:30")}); len(posts) != 0 {
		t.Errorf("gone twice:\n%s", texts(posts))
	}
	told := texts(h.says("2026-10-06 21:00", "Rui", "/setup coach:Bako"))
	if strings.Count(told, "Priya is paused") != 1 || strings.Count(told, "Wen is paused") != 1 {
		t.Errorf("the next coach:\n%s", told)
	}
	if again := texts(h.says("2026-10-06 21:01", "Rui", "/setup coach:Bako")); strings.Contains(again, "notice") {
		t.Errorf("once more:\n%s", again)
	}
	h.step(bot.CoachGone{Team: team, Coach: h.cast["Bako"].ID, At: h.at("2026-10-06 22:00")})
	if told := texts(h.says("2026-10-06 22:01", "Rui", "/setup coach:Tomé")); strings.Count(told, "notice") != 2 {
		t.Errorf("the one after:\n%s", told)
	}
}
