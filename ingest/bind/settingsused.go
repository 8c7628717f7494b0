package bind

import (
	"cmp"
	"slices"

	"drytally/compute"
	"drytally/compute/source"
)

// settingsUsed writes down every setting as used: the owner's where given, else the default, in the order of the table.
func (b *binder) settingsUsed() {
	given := map[string]compute.SettingUsed{}
	for _, u := range b.job.Settings.Used {
		given[u.Name] = u
	}
	s := &b.job.Settings
	s.Used = nil
	for _, row := range SettingRows {
		u, ok := given[row.Name]
		if !ok {
			if row.when != nil && !row.when(s) {
				continue
			}
			u = compute.SettingUsed{Name: row.Name, Source: source.Source{Document: "drytally", Place: "default", Status: cmp.Or(row.status, source.OurChoice)}}
		}
		u.Value = row.show(s)
		s.Used = append(s.Used, u)
	}
}

// settingsWritten writes the settings the owner gave.
func (b *binder) settingsWritten() map[string]string {
	all := map[string]string{}
	w := newWriter(&b.job.Settings)
	for _, u := range b.job.Settings.Used {
		at := slices.IndexFunc(SettingRows, func(s Setting) bool { return s.Name == u.Name })
		switch {
		case u.Place.File == "" || at < 0:
		case u.Name == "price":
			all[u.Name] = pricesText(&b.job.Settings)
		case SettingRows[at].money != nil && !SettingRows[at].money(&b.job.Settings).Given():
			all[u.Name] = "" // it was refused
		default:
			all[u.Name] = w.setting(&SettingRows[at], u.Value, b.owner[u.Name])
		}
	}
	return all
}
