package ids

import "testing"

func TestParseShort(t *testing.T) {
	for _, test := range []struct{ text, want string }{
		{"12-B2", "2026X012-B2"}, {"X001-A", "2026X001-A"}, {"1a", "2026X001-A"}, {"12b2c", "2026X012-B2C"}, {"012-B2-C", "2026X012-B2-C"}, {"x12-b2", "2026X012-B2"},
		{"X012", "2026X012"}, {"×7-a", "2026X007-A"}, {" 12 B2 ", "2026X012-B2"}, {"X1234-A", "2026X1234-A"}, {"12-B2.3", "2026X012-B2.3"},
		{"12", ""}, {"2026X012", ""}, {"26X012-B2", ""}, {"1234-A", ""}, {"0-A", ""}, {"", ""}, {"X", ""}, {"B2", ""}, {"12-", ""}, {"12.3", ""},
		{"12-I", ""}, {"3/1", ""}, {"X123456", ""},
	} {
		got := ""
		if s, ok := ParseShort(test.text); ok {
			got = s.In(2026)
		}
		if got != test.want {
			t.Errorf("ParseShort(%q) in 2026: %q, want %q", test.text, got, test.want)
		}
		if test.want == "" {
			continue
		}
		if _, err := Parse(got); err != nil {
			t.Errorf("%q is written as %q, which does not read: %v", test.text, got, err)
		}
	}
}
