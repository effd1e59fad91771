package learn

import _ "embed"

//go:embed report.table
var reportBytes []byte

//go:embed body.table
var bodyBytes []byte

var reportTable, bodyTable = mustTable(reportBytes), mustTable(bodyBytes)

// mustTable reads an embedded table. One that can't be read answers nothing, so
// that the fitting, which needs this package, can write it anew.
func mustTable(raw []byte) *Table {
	table, err := NewTable(raw)
	if err != nil {
		return &Table{}
	}
	return table
}

// Reader holds the scratch of reading. Its zero value is ready; it may be used
// again and again, but by one goroutine at a time.
type Reader struct {
	symbols  []symbol
	features []uint64
	named    Places // in the message that was read last
}

// Planes and thresholds of the tables.
const (
	ReportPlanes = 1 // thresholds: unsure, yes, yes among words that say nothing
	BodyPlanes   = 3 // thresholds: ask where a joint is named, ask, stop, urgent, skin

	planeHurts, planeUrgent, planeSkin = 0, 1, 2
)

// Report says whether the entry at a place is the writer's own work, done.
// tokens[at] must be an Entry.
func (r *Reader) Report(tokens []Token, at int) Answer { return r.report(tokens, at, false) }

// ReportCalm is Report in a message whose words are all known to say nothing
// beside sets: there far less is needed to be sure.
func (r *Reader) ReportCalm(tokens []Token, at int) Answer { return r.report(tokens, at, true) }

func (r *Reader) report(tokens []Token, at int, calm bool) Answer {
	var scores [ReportPlanes]int
	reportTable.Score(r.ReportFeatures(tokens, at, reportTable), scores[:])
	return reportTable.Answer(scores, calm)
}

// Body says what the writer's own body asks for.
func (r *Reader) Body(tokens []Token) Care {
	features := r.BodyFeatures(tokens, bodyTable)
	if len(features) == 0 {
		return Nothing
	}
	var scores [BodyPlanes]int
	bodyTable.Score(features, scores[:])
	return bodyTable.Care(scores, r.named)
}

// MaySpeakOfBody reports whether a folded word may speak of a body. Of a message
// without such a word Body says Nothing.
func MaySpeakOfBody(word []byte) bool {
	var s symbol
	s.mean(word, bodyTable)
	return lexicon.cues[s.meaning]
}

// Answer is what the score of an entry says.
func (t *Table) Answer(scores [ReportPlanes]int, calm bool) Answer {
	switch {
	case scores[0] >= t.threshold(1), calm && scores[0] >= t.threshold(2):
		return Yes
	case calm, scores[0] >= t.threshold(0):
		return Unsure
	}
	return No
}

// Care is what the scores of a message say: that it hurts, that it is urgent,
// that it is skin. It is asked sooner where a joint is named; skin has to be.
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
