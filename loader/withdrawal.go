package loader

import (
	"matewell/graph"
	"matewell/graph/diag"
)

// rawWithdrawal takes a finding back, as written. It stands apart from the
// finding, so that a file of findings only ever grows.
type rawWithdrawal struct {
	at                 diag.Pos
	finding, why, date word
}

func withdrawalForm() form[rawWithdrawal] {
	return mapping("a withdrawal", func(r *rawWithdrawal) *diag.Pos { return &r.at },
		need(says("identity of the finding that is taken back", key("finding", findingName().form(),
			func(r *rawWithdrawal) *word { return &r.finding }))),
		need(says("why it was taken back", key("why", phrase().form(), func(r *rawWithdrawal) *word { return &r.why }))),
		says("when", key("date", date().form(), func(r *rawWithdrawal) *word { return &r.date })))
}

// resolveWithdrawals marks findings as taken back. They stay, with the reason.
func resolveWithdrawals(w *world) {
	for _, f := range w.files {
		for i := range f.withdrawals {
			withdraw(w, f, &f.withdrawals[i])
		}
	}
}

func withdraw(w *world, f *dataFile, raw *rawWithdrawal) {
	if !raw.finding.given() || !raw.why.given() {
		return
	}
	id := graph.FindingID(raw.finding.text)
	finding, known := w.findings.get(id)
	if !known {
		w.unknown(raw.finding.pos, "unknown-finding", "no finding is called %q", id).Hint = near(raw.finding.text,
			w.findings.names())
		return
	}
	if finding.Withdrawn != "" && finding.Withdrawn != raw.why.text {
		w.Errorf(raw.finding.pos, "duplicate", "finding %q is taken back twice", id).Related = w.findings.origin(id).related()
		return
	}
	taken := *finding
	taken.Withdrawn, taken.WithdrawnOn = raw.why.text, raw.date.text
	first := w.findings.origin(id)
	if first.base { // say it in this layer too: the layer below can't be changed
		first.base, first.layer = false, f.layer
	}
	w.findings.put(id, taken, first)
}
