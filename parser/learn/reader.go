package learn

import _ "embed"

//go:embed report.table
var reportBytes []byte

//go:embed body.table
var bodyBytes []byte

var reportTable, bodyTable = mustTable(reportBytes), mustTable(bodyBytes)

// mustTable reads an embedded table. It returns an empty one for bytes that it
// cannot read, so that fitting, which needs this package, can write them anew.
func mustTable(raw []byte) *Table {
	table, err := NewTable(raw)
	if err != nil {
		return &Table{}
	}
	return table
}

// Reader reads one message at a time; what it holds is room to work in. The zero
// value is ready. It may be used any number of times, by one goroutine at a time.
type Reader struct {
	symbols  []symbol
	features []uint64
	named    Places // the places that are named in the message of the last BodyFeatures
}

// How many planes each table has, and what its thresholds are, in their order.
const (
	ReportPlanes = 1 // from where it is Unsure, Yes, and Yes in a calm message
	BodyPlanes   = 3 // from where it is Ask where a joint is named, Ask, Stop, Urgent, Skin

	planeHurts, planeUrgent, planeSkin = 0, 1, 2
)

// Report says whether tokens[at], which must be an Entry, is the author's own
// work, done.
func (r *Reader) Report(tokens []Token, at int) Answer { return r.report(tokens, at, false) }

// ReportCalm is Report for a calm message: one whose words beside the sets are all
// known to say nothing. There far less is needed to be sure.
func (r *Reader) ReportCalm(tokens []Token, at int) Answer { return r.report(tokens, at, true) }

func (r *Reader) report(tokens []Token, at int, calm bool) Answer {
	var scores [ReportPlanes]int
	reportTable.Score(r.ReportFeatures(tokens, at, reportTable), scores[:])
	return reportTable.Answer(scores, calm)
}

// Body says what to do about what the author says of their own body.
func (r *Reader) Body(tokens []Token) Care {
	features := r.BodyFeatures(tokens, bodyTable)
	if len(features) == 0 {
		return Nothing
	}
	var scores [BodyPlanes]int
	bodyTable.Score(features, scores[:])
	return bodyTable.Care(scores, r.named)
}

// MaySpeakOfBody reports whether a folded word may speak of a body. For a message
// without such a word Body returns Nothing.
func MaySpeakOfBody(word []byte) bool {
	var s symbol
	s.mean(word, bodyTable)
	return lexicon.cues[s.meaning]
}

// Answer returns what the scores of an entry say.
func (t *Table) Answer(scores [ReportPlanes]int, calm bool) Answer {
	switch {
	case scores[0] >= t.threshold(1), calm && scores[0] >= t.threshold(2):
		return Yes
	case calm, scores[0] >= t.threshold(0):
		return Unsure
	}
	return No
}

// Care returns what the scores of a message say; its planes score whether it
// hurts, is urgent, is skin. Where the message names a joint a lower score is
// enough for Ask. It is Skin only where the message names skin or a limb.
func (t *Table) Care(scores [BodyPlanes]int, named Places) Care {
	hurts := scores[planeHurts]
	switch {
	case hurts >= t.threshold(2) && scores[planeUrgent] >= t.threshold(3):
		return Urgent
	case hurts >= t.threshold(2):
		return Stop
	case named&(Skinned|Limb) != 0 && scores[planeSkin] >= t.threshold(4):
		return Skin
	case hurts >= t.threshold(1), named&Joint != 0 && hurts >= t.threshold(0):
		return Ask
	}
	return Nothing
}

func (t *Table) threshold(i int) int {
	if i >= len(t.Thresholds) {
		return 0
	}
	return int(t.Thresholds[i])
}
