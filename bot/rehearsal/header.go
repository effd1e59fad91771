package rehearsal

import (
	"regexp"
	"slices"
	"strings"
	"time"
	"unicode"

	"rungbook/training"
)

// What holds where the header says nothing. A team without days has no nudges;
// its zone and its name must be given.
var byDefault = training.Team{
	Nudge:     17*60 + 30,
	DigestDay: time.Sunday,
	Digest:    18 * 60,
	Quiet:     training.Quiet{From: 22 * 60, Until: 7 * 60},
}

// headerKey reads the value of one key.
type headerKey struct {
	read   func(r *reader, value string) error
	repeat bool // may stand on several lines
}

var headerKeys = map[string]headerKey{
	"team":    {read: (*reader).team},
	"zone":    {read: (*reader).zone},
	"days":    {read: (*reader).days},
	"nudge":   {read: (*reader).nudge},
	"digest":  {read: (*reader).digest},
	"quiet":   {read: (*reader).quiet},
	"coach":   {read: (*reader).coach, repeat: true},
	"members": {read: (*reader).enrol},
	"member":  {read: (*reader).member, repeat: true},
	"guest":   {read: (*reader).guest, repeat: true},
	"manager": {read: (*reader).manager, repeat: true},
	"welcome": {read: (*reader).welcome},
}

// keyNames in the order in which a header is best written.
const keyNames = "team, zone, days, nudge, digest, quiet, coach, members, member, guest, manager, welcome"

var startsWithDate = regexp.MustCompile(`^\d{4}-\d{2}-\d{2}\b`)

func (r *reader) header(text string) error {
	if startsWithDate.MatchString(text) {
		if r.state == beforeHeader {
			return r.fault("the header is missing; begin with lines for team, zone, days, coach and members, then a blank line")
		}
		return r.fault("a blank line must stand between the header and the first event")
	}
	if r.state == beforeHeader {
		r.state = inHeader
		r.Team = byDefault
	}
	name, value := text, ""
	if cut := strings.IndexAny(text, " \t"); cut >= 0 {
		name, value = text[:cut], strings.TrimSpace(text[cut:])
	}
	key, ok := headerKeys[name]
	if !ok {
		return r.fault("unknown header key %q; the keys are %s", name, keyNames)
	}
	if value == "" {
		return r.fault("%s has no value; write it behind the key, or take the line out", name)
	}
	if above, twice := r.keys[name]; twice && !key.repeat {
		return r.fault("%s stands on line %d already; keep one of the two", name, above)
	}
	r.keys[name] = r.at.number
	return key.read(r, value)
}

func (r *reader) team(value string) error {
	r.Team.Name = value
	return nil
}

func (r *reader) zone(value string) error {
	zone, err := r.loadZone(value)
	r.Team.Zone = zone
	return err
}

func (r *reader) loadZone(name string) (*time.Location, error) {
	zone, err := time.LoadLocation(name)
	if err != nil || name == "Local" {
		return nil, r.fault("unknown zone %q; use an IANA name, as Europe/Lisbon", name)
	}
	return zone, nil
}

func (r *reader) days(value string) error {
	days, err := training.ParseWeekdays(value)
	if err != nil {
		return r.fault("%v", err)
	}
	r.Team.Days = days
	return nil
}

func (r *reader) nudge(value string) (err error) {
	r.Team.Nudge, err = r.clock("nudge", value)
	return err
}

func (r *reader) digest(value string) (err error) {
	words := strings.Fields(value)
	if len(words) != 2 {
		return r.fault("digest %q: write a weekday and a time, as Sun 18:00", value)
	}
	if r.Team.DigestDay, err = training.ParseWeekday(words[0]); err != nil {
		return r.fault("%v", err)
	}
	r.Team.Digest, err = r.clock("digest", words[1])
	return err
}

// clock reads the time of something unasked, which never comes before the
// training day has begun.
func (r *reader) clock(key, value string) (training.Clock, error) {
	at, err := training.ParseClock(value)
	if err != nil {
		return 0, r.fault("%v", err)
	}
	if at < training.DayStart*60 {
		return 0, r.fault("%s %s is too early; choose a time from 04:00 to 23:59", key, value)
	}
	return at, nil
}

func (r *reader) quiet(value string) (err error) {
	from, until, ok := strings.Cut(value, "-")
	if !ok {
		return r.fault("quiet %q: write two times, as 22:00-07:00", value)
	}
	if r.Team.Quiet.From, err = training.ParseClock(strings.TrimSpace(from)); err == nil {
		r.Team.Quiet.Until, err = training.ParseClock(strings.TrimSpace(until))
	}
	if err != nil {
		return r.fault("%v", err)
	}
	return nil
}

// welcome reads how the notice to a newcomer is written out. A header without
// the key has it in full.
func (r *reader) welcome(value string) error {
	if value != "short" && value != "full" {
		return r.fault("welcome %q: write short, to print it as (welcome), or full", value)
	}
	r.ShortWelcome = value == "short"
	return nil
}

// splitNames splits at commas if there is one, else at blanks. A comma at the
// end is no further name: it lets one name with blanks stand alone.
func splitNames(value string) []string {
	if !strings.Contains(value, ",") {
		return strings.Fields(value)
	}
	names := strings.Split(strings.TrimSuffix(value, ","), ",")
	for i, name := range names {
		names[i] = strings.TrimSpace(name)
	}
	return names
}

// person returns the one of that name, whom it adds at a first mention.
func (r *reader) person(name string) (*Person, error) {
	if name == "" {
		return nil, r.fault("an empty name between two commas; take one of them out")
	}
	if strings.ContainsAny(name, ":>\"") || strings.HasPrefix(name, "#") || strings.ContainsFunc(name, unicode.IsControl) {
		return nil, r.fault("the name %q would not be told from the text of a message; leave out :, >, #, quotes and tabs", name)
	}
	if person, ok := r.byName[name]; ok {
		return person, nil
	}
	for _, other := range r.People {
		if strings.EqualFold(other.Name, name) {
			return nil, r.fault("%s and %s differ by capitals alone; write them the same or give one another name", other.Name, name)
		}
	}
	person := &Person{Name: name}
	r.byName[name] = person
	r.People = append(r.People, person)
	return person, nil
}

// give reads names and sets a role of each, which must not be set yet.
func (r *reader) give(names []string, role string, of func(*Person) *bool) error {
	for _, name := range names {
		person, err := r.person(name)
		if err != nil {
			return err
		}
		if *of(person) {
			return r.fault("%s is named as %s twice; once is enough", name, role)
		}
		*of(person) = true
		if person.Guest && (person.Member || person.Coach) {
			return r.fault("%s can't be a guest and of the team; take the name out of one line", name)
		}
	}
	return nil
}

func (r *reader) coach(value string) error {
	return r.give(splitNames(value), "coach", func(p *Person) *bool { return &p.Coach })
}

func (r *reader) enrol(value string) error {
	r.members = splitNames(value)
	return r.give(r.members, "member", func(p *Person) *bool { return &p.Member })
}

// oneName is a name that stands alone on its line, so that blanks are part of
// it; commas still separate.
func oneName(value string) []string {
	if strings.Contains(value, ",") {
		return splitNames(value)
	}
	return []string{strings.Join(strings.Fields(value), " ")}
}

func (r *reader) guest(value string) error {
	return r.give(oneName(value), "guest", func(p *Person) *bool { return &p.Guest })
}

func (r *reader) manager(value string) error {
	return r.give(oneName(value), "manager", func(p *Person) *bool { return &p.Manager })
}

// ownZone is the zone somebody chose for themselves, on the line named.
type ownZone struct {
	name string
	zone *time.Location
	line int
}

// member reads "NAME zone ZONE". Who it is about may stand on a later line, so
// the name is looked up at the header's end.
func (r *reader) member(value string) error {
	cut := strings.LastIndex(value, " zone ")
	if cut < 0 {
		return r.fault("member %q: write a name, the word zone and the zone, as Wen zone America/Sao_Paulo", value)
	}
	name, zone := strings.TrimSpace(value[:cut]), strings.TrimSpace(value[cut+len(" zone "):])
	where, err := r.loadZone(zone)
	if err != nil {
		return err
	}
	r.zones = append(r.zones, ownZone{name, where, r.at.number})
	return nil
}

// endHeader checks what only the whole header shows.
func (r *reader) endHeader() error {
	for _, key := range []string{"team", "zone"} {
		if _, ok := r.keys[key]; !ok {
			r.at.number = max(r.at.number, 1)
			return r.fault("the header has no %s; add a line such as %q", key, map[string]string{
				"team": "team Tidewater Rings", "zone": "zone Europe/Lisbon",
			}[key])
		}
	}
	for _, own := range r.zones {
		r.at.number = own.line
		person, ok := r.byName[own.name]
		switch {
		case !ok || !person.Member && !person.Coach:
			return r.fault("%s is no member; add the name to the line members", own.name)
		case person.Zone != nil:
			return r.fault("%s has a zone already; keep one of the two lines", own.name)
		}
		person.Zone = own.zone
	}
	r.state = inBody
	r.names = slices.Clone(r.People)
	slices.SortStableFunc(r.names, func(a, b *Person) int { return len(b.Name) - len(a.Name) })
	return nil
}
