package parser

// size is one size of an entry with what was said of it.
type size struct {
	item
	slash   bool // a slash joined it to the size before
	then    bool // told behind a then
	plus    bool // a plus joined it to the size before
	plain   bool // said to be without help: strict
	failed  bool
	twice   bool // two sides were said of it
	side    int8 // index in sides plus 1; 0 where unsaid
	has     said
	clause  int32
	effort  item
	load    item
	rest    item
	help    aid
	sideAt  item
	correct item // iWhich: the sets that this size corrects
}

// said tells which of a size's particulars were said.
type said uint8

const (
	saidEffort said = 1 << iota
	saidLoad
	saidRest
	saidHelp
)

// entry is a rung with its sizes, sizes[from:to].
type entry struct {
	rung     int32
	nameFrom int32 // tokens
	nameTo   int32
	from, to int32
	outer    int32 // so many times the whole list; 0 where unsaid
	line     int32
	done     int32 // attempts that came off
	doneSaid bool
	circuit  bool // outer is the rounds of a circuit
	first    bool // the name stood before the sizes
	share    bool // takes the sizes of the entry behind
	copied   bool // has the sizes of the entry before
	counted  bool // a count stood with a size
	each     bool
	revived  bool // its first sizes were planned, the rest done
	tried    bool // the word attempts was said
	near     bool // the name was misspelt
	pre      size // what was said before the first size
	outerAt  item
}

// fill appends the run's sizes and puts what is said to the size it belongs to.
// first is where the entry's sizes begin, or the end of all sizes where there
// is no entry yet.
func (a *assembler) fill(u run, first int) {
	f := filler{assembler: a, first: first, start: len(a.reader.sizes), entry: a.entryOf(first)}
	for i := u.from; i < u.to; i++ {
		f.item(i, u)
	}
	f.finish()
}

func (a *assembler) entryOf(first int) *entry {
	if a.open >= 0 && int(a.entries[a.open].from) == first && (a.pend == first || a.pend == len(a.reader.sizes)) {
		return &a.entries[a.open]
	}
	return nil
}

type filler struct {
	*assembler
	first int // the entry's first size
	start int // the run's first size
	entry *entry
	ahead size // said before the size it belongs to
	which item
	named bool // the run's name has passed
}

func (f *filler) last() *size {
	if n := len(f.reader.sizes); n > f.start || n > f.first && f.entry != nil {
		return &f.reader.sizes[n-1]
	}
	return nil
}

func (f *filler) item(i int, u run) {
	it := &f.items[i]
	switch it.k {
	case iName:
		f.named = true
	case iSize, iFrac, iOf:
		f.size(it, u)
	case iFail:
		f.fail(it, u)
	case iCount:
		f.count(it, i)
	case iWhich:
		f.which = *it
	case iSide:
		f.side(it)
	case iFill, iPart:
		f.fillWord(it)
	case iTry:
		if f.entry != nil {
			f.entry.tried = true
		}
	case iMade:
		f.made(it)
	default:
		if s := f.last(); s != nil && len(f.reader.sizes) > f.start && f.which.k != iWhich {
			s.say(it)
		} else {
			f.ahead.say(it)
		}
	}
}

// say puts a particular to the size.
func (s *size) say(it *item) {
	switch it.k {
	case iEffort:
		if s.has&saidEffort != 0 && s.count > 1 {
			s.effort.addLevel(it)
			return
		}
		s.effort, s.has = *it, s.has|saidEffort
	case iLoad:
		s.load, s.has = *it, s.has|saidLoad
	case iRest:
		s.rest, s.has = *it, s.has|saidRest
	case iHelp:
		s.help, s.has = it.help, s.has|saidHelp
	}
}

// take adds what was said ahead.
func (s *size) take(ahead *size) {
	if ahead.has == 0 && ahead.side == 0 && !ahead.failed {
		return
	}
	if ahead.has&saidEffort != 0 {
		s.effort = ahead.effort
	}
	if ahead.has&saidLoad != 0 {
		s.load = ahead.load
	}
	if ahead.has&saidRest != 0 {
		s.rest = ahead.rest
	}
	if ahead.has&saidHelp != 0 {
		s.help = ahead.help
	}
	s.has |= ahead.has
	if ahead.side != 0 {
		s.side, s.sideAt = ahead.side, ahead.sideAt
	}
	s.failed = s.failed || ahead.failed
}

// takeAll takes what was said ahead and leaves nothing of it.
func (s *size) takeAll(ahead *size) {
	if s.take(ahead); ahead.has != 0 || ahead.side != 0 || ahead.failed {
		*ahead = size{}
	}
}

func (f *filler) size(it *item, u run) {
	n := len(f.reader.sizes)
	if it.k == iSize && it.m == roundsBehind && f.named && n == f.first && f.plainBefore() { // 12s high hold + toe support 15s x4 rounds
		f.rounds(&item{k: iCount, n: it.count, round: true, from: it.from, to: it.to})
		once := *it
		once.count, once.loud = 0, false
		it = &once
	}
	if it.k == iOf && it.m == 10 && n > f.first { // 8 of 10
		f.last().say(&item{k: iEffort, n: it.n * 10, from: it.from, to: it.to})
		return
	}
	if f.becomesCount(it) || f.merges(it, u) {
		return
	}
	f.reader.sizes = append(f.reader.sizes, size{})
	s := &f.reader.sizes[n]
	s.item, s.slash, s.then, s.clause = *it, u.sign == '/' && n == f.start, u.sign == '>' && n == f.start, int32(f.line)
	s.plus = u.sign == '+' && n == f.start
	if f.which.k == iWhich {
		s.correct, f.which = f.which, item{}
	}
	if f.entry != nil {
		s.takeAll(&f.entry.pre)
		f.entry.counted = f.entry.counted || it.count > 0
	} else {
		s.takeAll(&f.lead)
	}
	s.takeAll(&f.ahead)
	if it.round && it.count > 0 && f.circuit == 0 && !f.named {
		f.circuit, f.loose = it.count, true
	}
}

// becomesCount turns the 3 of "3 deep hangs of 30s" into a count.
func (f *filler) becomesCount(it *item) bool {
	if !f.named || f.entry == nil || len(f.reader.sizes) != f.start+1 || it.unit == uNone || it.k != iSize {
		return false
	}
	s := &f.reader.sizes[f.start]
	if s.k != iSize || s.unit != uNone || s.count != 0 || !s.whole || it.count != 0 || s.milli > 20_000 || f.first != f.start {
		return false
	}
	if f.rungOf(f.entry).unit != "seconds" && it.unit == uSec { // 5 pull-ups of 3s
		return false
	}
	count := int32(s.milli / 1000)
	s.item = *it
	s.count, s.from = count, min(s.from, it.from)
	return true
}

// merges joins reps with the seconds of each: 5 reps 10s each, 3x3 slow lowers
// of 5s.
func (f *filler) merges(it *item, u run) bool {
	if it.k != iSize || it.unit != uSec || it.count != 0 || it.reps != 0 || f.which.k == iWhich {
		return false
	}
	s := f.last()
	if s == nil || s.k != iSize || s.reps != 0 || s.unit == uSec {
		return false
	}
	reps := s.unit == uRep || f.entry != nil && f.rungOf(f.entry).unit != "seconds"
	each := false
	for i := u.from; i < u.to; i++ {
		each = each || f.items[i].k == iFill && f.items[i].n == 1
	}
	inRun := len(f.reader.sizes) > f.start
	if !reps && f.entry != nil && (each || u.sign == '@') && len(f.reader.sizes) == f.first+1 && s.count == 0 && s.unit == uNone && s.whole && s.milli <= 20_000 && s.to <= f.entry.nameFrom { // 4 mid hangs, 25s each
		count := int32(s.milli / 1000)
		s.item = *it
		s.count, f.entry.counted = count, true
		return true
	}
	if !reps || !each && !inRun {
		return false
	}
	from := len(f.reader.sizes) - 1
	if !inRun {
		from = f.first
	}
	for i := from; i < len(f.reader.sizes); i++ {
		if s := &f.reader.sizes[i]; s.unit != uSec && s.reps == 0 {
			s.reps, s.milli, s.unit = int32(min(s.milli/1000, numCap)), it.milli, uSec
		}
	}
	return true
}

func (f *filler) fail(it *item, u run) {
	if it.m == 0 && it.n == 0 && f.entry != nil && (f.is(int(it.from)-1, "all") || f.is(int(it.from)-1, "both")) && len(f.reader.sizes) == f.start && f.start > f.first { // ..., all failed
		for i := f.first; i < f.start; i++ {
			f.reader.sizes[i].failed = true
		}
		return
	}
	if it.m == 0 && f.which.k == iWhich && !f.has(int(f.which.to)-1, fRep) { // last set failed
		f.reader.sizes = append(f.reader.sizes, size{item: item{k: iFail, from: it.from, to: it.to}, failed: true, correct: f.which})
		f.which = item{}
		return
	}
	if it.m == 2 { // failed the last set
		s := size{item: item{k: iFail, from: it.from, to: it.to}, failed: true, correct: item{k: iWhich, n: it.count, m: it.reps}}
		if it.milli > 0 { // at 22s
			s.k, s.unit, s.milli, s.whole = iSize, it.unit, it.milli, true
		}
		f.reader.sizes = append(f.reader.sizes, s)
		return
	}
	if it.m == 1 && f.which.k == iWhich { // last set failed at 22s
		f.reader.sizes = append(f.reader.sizes, size{item: item{k: iSize, unit: it.unit, milli: it.milli, whole: true, from: it.from, to: it.to}, failed: true, correct: f.which})
		f.which = item{}
		return
	}
	if it.m == 0 && len(f.reader.sizes) > f.start && it.n == 0 {
		f.last().failed = true
		return
	}
	if it.m == 0 && u.sign == '(' && f.last() != nil {
		f.last().failed = true
		return
	}
	if it.m == 0 && it.n == 0 && f.sizeFollows(it, u) {
		f.ahead.failed = true
		return
	}
	if f.last() == nil && !f.named && f.entry == nil {
		return
	}
	s := size{item: item{k: iSize, unit: it.unit, milli: it.milli, count: it.n, whole: true, code: it.code, from: it.from, to: it.to}, failed: true, slash: u.sign == '/'}
	s.take(&f.ahead)
	f.ahead = size{}
	f.reader.sizes = append(f.reader.sizes, s)
}

func (f *filler) sizeFollows(it *item, u run) bool {
	for i := u.from; i < u.to; i++ {
		if f.items[i].from > it.from && f.items[i].k == iSize {
			return true
		}
	}
	return false
}

func (f *filler) side(it *item) {
	side := int8(it.n + 1)
	s := f.last()
	if len(f.reader.sizes) == f.start {
		s = nil
	}
	if s != nil && s.side == 0 {
		s.side, s.sideAt = side, *it
		return
	}
	f.ahead.side, f.ahead.sideAt = side, *it
}

func (f *filler) fillWord(it *item) {
	if n := len(f.reader.sizes); n > f.start && (f.is(int(it.from), "strict") || f.is(int(it.from), "unassisted")) {
		f.reader.sizes[n-1].plain = true
	}
	if it.n == 1 { // each
		if f.entry != nil {
			f.entry.each = true
		} else {
			f.each = true
		}
	}
}

func (f *filler) made(it *item) {
	if f.entry == nil || f.is(int(it.from), "done") && f.rungOf(f.entry).unit != "tries" { // pull-ups 5, done
		return
	}
	n := it.n
	if n < 0 {
		s := f.last()
		if s == nil || len(f.reader.sizes) == f.start {
			return
		}
		n = int32(s.milli / 1000)
		f.reader.sizes = f.reader.sizes[:len(f.reader.sizes)-1]
	}
	f.entry.done, f.entry.doneSaid = n, true
}

// finish gives what was said behind the last size, or before any, to whom it
// concerns.
func (f *filler) finish() {
	s := f.last()
	if f.which.k == iWhich && f.ahead.has != 0 && f.entry != nil && len(f.reader.sizes) > f.first && f.rungOf(f.entry).unit != "tries" { // last two with a band
		some := size{item: item{k: iWhich, from: f.which.from, to: f.which.to}, correct: f.which}
		some.take(&f.ahead)
		f.reader.sizes = append(f.reader.sizes, some)
		return
	}
	if f.which.k == iWhich && f.start > f.first && len(f.reader.sizes) == f.start+1 { // only 24s on the last
		s.correct = f.which
	}
	switch {
	case s == nil && f.entry != nil:
		f.entry.pre.take(&f.ahead)
	case s == nil:
		f.lead.take(&f.ahead)
	case f.ahead.side != 0 && s.side != 0 && s.side != f.ahead.side:
		s.twice, s.sideAt = true, f.ahead.sideAt
	default:
		s.take(&f.ahead)
	}
}
