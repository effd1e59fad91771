package parser

import "rungbook/training"

// itemKind is the kind of a phrase.
type itemKind uint8

const (
	iOther  itemKind = iota // words that say nothing here
	iName                   // n: rung
	iLadder                 // n: ladder, as a heading
	iPart                   // a word that is part of some rung's name; alone it names none
	iSize                   // count x reps x milli of unit
	iCount                  // n sets; round: of everything
	iFrac                   // n/m, bare and glued
	iOf                     // n out of m
	iSep                    // n: the sign
	iFill                   // harmless words
	iRest                   // n seconds, -1: no length said
	iEffort                 // n in tenths
	iLoad                   // n in hectograms; m 1: of a band
	iHelp                   // word
	iSide                   // n: index in sides
	iFail                   //
	iTry                    //
	iMade                   // n came off, -1: unsaid
	iWhich                  // n-th of the sets before, 99 for the last; m of them
	iDay                    // day
	iNote                   // the rest of the clause is a remark
	iStray                  // a number that counts something else
	iBad                    // code: cannot be read; still takes part as what it is near to
)

// item is a phrase: a few tokens that mean one thing.
type item struct {
	k        itemKind
	round    bool // iCount: rounds, not sets
	loud     bool // iCount, iEffort: said with its own word
	whole    bool // iSize: no fraction
	near     bool // iName: misspelt
	unit     unit
	help     aid
	code     fault
	from, to int32 // tokens
	count    int32 // iSize: 0 where unsaid
	reps     int32 // iSize: reps of milli seconds each
	n, m     int32
	milli    int64
}

// phrases fills r.items from the tokens. Every rule either takes tokens or
// leaves them to the next; a token no rule takes is iOther.
func (r *reader) phrases() {
	for i := 0; r.toks[i].kind != kEnd; {
		it, ok := r.phrase(i)
		if !ok {
			it = item{k: iOther, from: int32(i), to: int32(i + 1)}
		}
		r.items = append(r.items, it)
		if it.k == iSize {
			r.sized, r.counts = true, r.counts || it.count > 0
		}
		i = int(it.to)
	}
}

func (r *reader) phrase(i int) (item, bool) {
	t := &r.toks[i]
	switch {
	case t.used:
		return item{}, false
	case t.kind == kSign:
		return one(iFill, i), true
	case t.kind == kLine:
		return sep('\n', i), true
	case t.kind == kPunct:
		return r.signPhrase(i)
	case t.kind == kNum && r.listMark(i):
		return item{k: iFill, from: int32(i), to: int32(i + 2)}, true
	case t.kind == kNum, t.kind == kFrac, t.f&(fOnes|fTens|fHundred|fHalf|fCouple) != 0, t.kind == kWord && t.b-t.a <= 2 && (r.is(i, "a") || r.is(i, "an")), t.f&fMin != 0 && r.minuteAndHalf(i):
		if it, ok := r.numberPhrase(i); ok {
			return it, true
		}
	}
	if t.kind == kWord {
		if t.b-t.a == 1 && r.letterMark(i) {
			return item{k: iFill, from: int32(i), to: int32(i + 2)}, true
		}
		return r.wordPhrase(i)
	}
	return item{}, false
}

// listMark reports whether a number only counts lines or points: "2. toe support",
// "1) 3x30s deep hang 2) ...".
func (r *reader) listMark(i int) bool {
	t, sign := &r.toks[i], &r.toks[i+1]
	if t.digits > 2 || sign.kind != kPunct || !sign.glued {
		return false
	}
	if next := &r.toks[i+2]; next.glued || next.kind != kWord && next.kind != kNum {
		return false
	}
	opens := i == 0 || r.toks[i-1].kind == kLine
	if sign.n == '.' && !opens && !t.glued && t.digits == 1 && t.n > 1 && r.toks[0].n == 1 && r.toks[0].kind == kNum && r.punct(1, '.') && !r.toks[2].glued { // 1. ... 2. ...
		return true
	}
	return opens && (sign.n == '.' && !r.has(i+2, fMonth) || sign.n == ')' || sign.n == ':' && t.n <= 12) || sign.n == ')' && !t.glued && !r.bracketOpen(i)
}

// bracketOpen reports whether a bracket opened shortly before token i.
func (r *reader) bracketOpen(i int) bool {
	for j := i - 1; j >= 0 && j > i-16 && !r.punct(j, ')'); j-- {
		if r.punct(j, '(') {
			return true
		}
	}
	return false
}

// letterMark reports whether a letter and a figure only name a line: "A1 3x30s".
func (r *reader) letterMark(i int) bool {
	t, n := &r.toks[i], &r.toks[i+1]
	return (i == 0 || r.toks[i-1].kind == kLine) && t.b-t.a == 1 && r.buf[t.a] <= 'f' && n.kind == kNum && n.glued && n.digits == 1 && (!r.toks[i+2].glued || r.sepAt(i+2)) && r.toks[i+2].kind != kEnd
}

// abbreviated reports whether the dot at token i belongs to a shortened unit
// before it: 30 Sek. deep hang.
func (r *reader) abbreviated(i int) bool {
	return r.punct(i, '.') && r.toks[i].glued && r.has(i-1, fSec|fMin|fRep|fKg|fLb|fSet) && r.toks[i-1].b-r.toks[i-1].a >= 3 && r.toks[i+1].kind == kWord && !r.toks[i+1].capital && r.toks[i+1].f&fAnd == 0
}

func one(k itemKind, i int) item { return item{k: k, from: int32(i), to: int32(i + 1)} }

func sep(sign rune, i int) item { return item{k: iSep, n: sign, from: int32(i), to: int32(i + 1)} }

// signPhrase reads what begins with a sign.
func (r *reader) signPhrase(i int) (item, bool) {
	t := &r.toks[i]
	switch t.n {
	case '@', '+':
		if t.n == '+' && t.glued && r.has(i-1, fSec|fMin|fRep) && r.sepAt(i+1) && (!r.toks[i+1].glued || r.toks[i+1].kind == kEnd) { // 30s+
			return one(iFill, i), true
		}
		if it, ok := r.signed(i); ok {
			return it, true
		}
		if t.n == '@' && r.toks[i+1].kind == kWord && r.toks[i+1].glued { // a mention
			return item{k: iFill, from: int32(i), to: int32(i + 2)}, true
		}
	case '-':
		if it, ok := r.load(i + 1); ok && r.toks[i+1].glued && !t.glued {
			it.from, it.n = int32(i), -abs(it.n)
			return it, true
		}
		if t.glued && r.toks[i+1].glued && r.toks[i+1].kind == kWord && i > 0 && r.toks[i-1].kind == kWord && r.toks[i+1].f == 0 { // inside a word
			return one(iFill, i), true
		}
	case '.':
		if r.abbreviated(i) {
			return one(iFill, i), true
		}
		if r.toks[i+1].kind == kNum && r.toks[i+1].glued && !t.glued {
			return r.numberPhrase(i)
		}
	case '=':
		if q, ok := r.quantity(i + 1); ok && (r.sepAt(q.to) || r.nameSoon(q.to)) && len(r.items) > 0 && r.items[len(r.items)-1].k == iSize { // 5 + 5 + 5 = 15
			return item{k: iFill, from: int32(i), to: int32(q.to)}, true
		}
	case '/':
		if r.punct(i+1, '/') {
			return item{k: iNote, from: int32(i), to: int32(i + 2)}, true
		}
		if r.has(i+1, fLimb) && t.glued && i > 0 { // 10s/side
			return item{k: iSide, n: 2, from: int32(i), to: int32(i + 2)}, true
		}
		if !t.glued && !r.toks[i+1].glued { // " / " parts, "/" lists
			return sep(',', i), true
		}
	}
	return sep(t.n, i), true
}

// numberPhrase reads what begins with a number, the longest meaning first.
func (r *reader) numberPhrase(i int) (item, bool) {
	if r.toks[i].kind == kNum && r.is(i+1, "x") && !r.is(i-1, "tempo") { // 3x: nothing but a count
		return r.size(i)
	}
	if end := r.passed(i); end > i {
		return item{k: iFill, from: int32(i), to: int32(end)}, true
	}
	if t := &r.toks[i+1]; r.toks[i].kind == kNum && t.kind == kWord && t.f == 0 && t.m == 0 && !t.glued && !r.is(i+1, "out") { // 5 pull-ups
		return r.size(i)
	}
	if it, ok := r.partOfCount(i); ok {
		return it, true
	}
	if r.toks[i].n == 1 && r.has(i+1, fToes) { // with 1 foot down
		return r.help(i + 1)
	}
	for _, rule := range [...]func(*reader, int) (item, bool){(*reader).dayPhrase, (*reader).which, (*reader).onOff, (*reader).timedRest, (*reader).load, (*reader).numberedEffort, (*reader).outOf, (*reader).size} {
		if it, ok := rule(r, i); ok {
			return it, true
		}
	}
	return item{}, false
}

// wordPhrase reads what begins with a word. Names come first: a rung may be
// called by any words.
func (r *reader) wordPhrase(i int) (item, bool) {
	if at, next, ok := r.name(i); ok && !(at >= ladderBase && (r.toks[i].f&fTry != 0 || r.punct(next, '-') && r.toks[next].glued && r.toks[next+1].glued && r.toks[next+1].kind == kWord)) {
		it := r.named(i, next, r.onRings(at, &next))
		if i > 0 && r.toks[i-1].f&fFill != 0 && r.purpose(i) || r.triedBefore(it) {
			it = item{k: iFill, from: it.from, to: it.to}
		}
		return it, true
	}
	t := &r.toks[i]
	if t.f == 0 && t.m == 0 {
		if r.toks[i+1].glued && r.isPeriod(i) {
			return r.numberPhrase(i)
		}
		return r.partOfName(i)
	}
	for _, rule := range wordRules {
		if t.f&rule.on != 0 {
			if it, ok := rule.read(r, i); ok {
				return it, true
			}
		}
	}
	if it, ok := r.partOfName(i); ok {
		return it, true
	}
	switch {
	case t.f&fAnd != 0 && r.is(i, "e") && r.punct(i+1, '/') && r.is(i+2, "s") && r.toks[i+2].glued: // each side
		return item{k: iSide, n: 2, from: int32(i), to: int32(i + 3)}, true
	case t.f&fAnd != 0:
		return sep('&', i), true
	case t.f&fThen != 0:
		return r.then(i), true
	case r.is(i, "but"):
		return sep(',', i), true
	case t.f&fFloor != 0 && r.has(i-1, fToes): // support with toes + down
		return one(iFill, i), true
	case t.f&(fFill|fOf|fWith|fHead|fRemark|fVow|fLoad|fBody|fHelped|fBand|fThis|fToday) != 0, t.m&mMe != 0:
		return one(iFill, i), true
	}
	return item{}, false
}

// wordRules are tried in order at a word that has one of the flags.
var wordRules []struct {
	on   flags
	read func(*reader, int) (item, bool)
}

func init() {
	wordRules = []struct {
		on   flags
		read func(*reader, int) (item, bool)
	}{
		{fWeekday | fMonth | fToday | fYesterday | fLast | fThis | fLead | fDays | fOrdinal, (*reader).dayPhrase},
		{fRest | fOff, (*reader).rest},
		{fEffort | fRIR | fFeel | fWith, (*reader).effort},
		{fToes | fBand | fPartner | fWith | fHelped | fBandKind, (*reader).help},
		{fBody | fLoad | fWith | fCounter, (*reader).wordLoad},
		{fLeft | fRight | fEach | fBoth, (*reader).side},
		{fOrdinal | fLast | fSet | fRound, (*reader).which},
		{fFail | fTimes, (*reader).fail},
		{fTry, (*reader).try},
		{fMade | fNone, (*reader).made},
		{fTwice | fTimes, (*reader).times},
		{fNote, (*reader).note},
	}
}

// purpose reports whether the name at token i says what another one is for:
// transitions for the muscle-up.
func (r *reader) purpose(i int) bool {
	if r.is(i-1, "the") || r.is(i-1, "my") || r.is(i-1, "a") {
		i--
	}
	at := len(r.items) - 1
	for at >= 0 && r.items[at].k == iFill && r.items[at].from >= int32(i-1) {
		at--
	}
	return r.is(i-1, "for") && at >= 0 && r.items[at].k == iName && r.items[at].to == int32(i-1)
}

// triedBefore reports whether the name of what is tried only says more of the
// timed one right behind it: MU transitions.
func (r *reader) triedBefore(it item) bool {
	if it.k != iName || r.p.names.rungs[it.n].unit != training.Tried {
		return false
	}
	at, _, ok := r.name(int(it.to))
	return ok && at < ladderBase && r.p.names.rungs[at].unit == training.Timed
}

// onRings takes "dips on rings" for ring dips, where there is such a rung.
func (r *reader) onRings(at int32, next *int) int32 {
	j := *next
	if at >= ladderBase || !r.is(j, "on") {
		return at
	}
	if j++; r.is(j, "the") {
		j++
	}
	if !r.is(j, "rings") && !r.is(j, "ring") {
		return at
	}
	key := append(append(r.key[:0], "ring"...), r.p.names.rungs[at].key...)
	if ring, ok := r.p.names.names[string(key)]; ok && ring < ladderBase {
		*next = j + 1
		return ring
	}
	return at
}

func (r *reader) named(i, next int, at int32) item {
	it := item{k: iName, n: at, from: int32(i), to: int32(next)}
	if at >= ladderBase {
		it.k, it.n = iLadder, at-ladderBase
		if rungs := r.p.programme.Ladders[it.n].Rungs; len(rungs) == 1 {
			it.k, it.n = iName, int32(r.p.names.sizes[rungs[0].ID])
		}
	}
	return it
}

// partOfName takes a word that is part of a rung's name: "hold", "deep".
func (r *reader) partOfName(i int) (item, bool) {
	if r.toks[i].part {
		return one(iPart, i), true
	}
	return item{}, false
}

func (r *reader) then(i int) item {
	it := sep('>', i)
	for r.is(int(it.to), "by") || r.is(int(it.to), "that") {
		it.to++
	}
	return it
}

// note takes a label behind which no size is meant.
func (r *reader) note(i int) (item, bool) {
	if r.punct(i+1, ':') {
		return item{k: iNote, from: int32(i), to: int32(i + 2)}, true
	}
	return item{}, false
}
