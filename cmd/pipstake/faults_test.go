package main

import (
	"os"
	"path/filepath"
	"regexp"
	"testing"
)

// faults are kinds of fault that were reported in public of libraries, viewers,
// spreadsheets and scanners, each with a place where it was and with the test here
// that fails where it can happen to our users.
var faults = []struct{ kind, reported, file, test string }{
	{"an automatic page break adds pages", "gofpdf#327", "layout/pdf_test.go", "TestTextAtTheFootAddsNoPage"},
	{"a page comes out in another size", "cups#1459", "layout/pdf_test.go", "TestMediaBoxIsThePaper"},
	{"modules do not divide evenly", "jquery-qrcode#7", "layout/pdf_test.go", "TestModulesAreWholeDots"},
	{"the same input gives other bytes", "gofpdf#160", "layout/pdffile_test.go", "TestSameJobGivesSameBytes"},
	{"an encoding is guessed", "zxing#1500", "label/symbol/penalty_test.go", "TestAlphabetIsNotBytes"},
	{"wrong padding goes unnoticed", "segno#123", "label/symbol/oracle_test.go", "TestQRCodewordsAgainstOtherEncoders"},
	{"scanner and computer differ in their keyboards", "barcode-to-pc-server#166", "label/symbol/typed_test.go", "TestOffersNameTheLayout"},
	{"cells become dates, exponents and numbers", "bad-data-guide#42", "ids/registry/damage_test.go", "TestDamagedCells"},
	{"a quote in a cell breaks the rows", "go#21201", "ids/registry/table_test.go", "TestRowsAreNumberedAsSpreadsheetsDo"},
	{"a guard against formulas piles up", "tableExport#230", "ids/registry/formula_test.go", "TestFormulasDoNotPileUp"},
	{"letters that only look alike", "style-guide#165", "ids/registry/nameletters_test.go", "TestNamesThatLookTheSame"},
	{"mode and link are lost at saving", "renameio#11", "ids/registry/change_test.go", "TestSaveKeepsModeAndLink"},
	{"a file is held open by a spreadsheet", "atomicwrites#42", "ids/registry/commit_test.go", "TestFileHeldOpen"},
	{"a lock is waited for without end", "filelock#77", "ids/registry/change_test.go", "TestLockIsWaitedForNoLongerThanAsked"},
	{"photographs lie about what they are", "libheif#907", "label/symbol/photo/file_test.go", "TestOpenRefuses"},
	{"photographs lie on their side", "go#12512", "label/symbol/photo/file_test.go", "TestHonoursOrientation"},
	{"a calendar line is folded within an escape", "collective/icalendar#1501", "cmd/pipstake/icalendar/icalendar_test.go", "TestLinesAreFolded"},
	{"a damaged font makes the library panic or draw boxes", "gofpdf#250", "layout/fonts_test.go", "TestDamagedFonts"},
	{"a failed write of what is said shows as a mere 1", "sharkdp/fd#737", "cmd/pipstake/ending_test.go", "TestSaidAndSavedAreOne"},
	{"a long line ends the session", "junegunn/fzf#248", "cmd/pipstake/lines_test.go", "TestBadLineCostsItselfOnly"},
	{"copies of sync programs have names of all kinds", "skilion/onedrive#265", "ids/registry/check_test.go", "TestCheckAnnouncesCopies"},
	{"a folder with brackets in its name", "buildpacks/lifecycle#412", "cmd/pipstake/paths_test.go", "TestPatternsOfFiles"},
	{"a named pipe in the place of a file", "psviderski/uncloud#331", "ids/plainfile/plainfile_unix_test.go", "TestNoFileIsOpenedThatIsNone"},
	{"a clock that begins again years ago", "guysoft/OctoPi#606", "cmd/pipstake/clock_test.go", "TestClockThatIsWrong"},
	{"a photograph lacks its last bytes", "golang/go#10447", "label/symbol/photo/jpeg_test.go", "TestOpenReadsWhatIsThere"},
	{"a photograph is sampled as no decoder knows", "golang/go#54997", "label/symbol/photo/sampling_test.go", "TestSamplingsAreReadOrNamed"},
	{"a code is seen in a mirror", "mikebuss/MTBBarcodeScanner#22", "label/symbol/decode/decode_test.go", "TestReadsDataMatrixOfOthers"},
	{"temporary files of killed commands stay", "yvgude/lean-ctx#958", "cmd/pipstake/abandoned_test.go", "TestAbandonedFilesAreCleared"},
}

// Each kind of fault has the test that is named for it.
func TestFaultsHaveTheirTests(t *testing.T) {
	place := regexp.MustCompile(`^[\w.-]+(/[\w.-]+)?#\d+$`)
	seen := map[string]bool{}
	for _, f := range faults {
		text, err := os.ReadFile(filepath.Join("..", "..", filepath.FromSlash(f.file)))
		if err != nil {
			t.Errorf("%s: %v", f.kind, err)
			continue
		}
		if !regexp.MustCompile(`(?m)^func ` + f.test + `\(t \*testing\.T\) \{$`).Match(text) {
			t.Errorf("%s (%s): %s has no %s", f.kind, f.reported, f.file, f.test)
		}
		if !place.MatchString(f.reported) || seen[f.kind] || seen[f.test] {
			t.Errorf("%s: reported at %q; kinds and tests stand once", f.kind, f.reported)
		}
		seen[f.kind], seen[f.test] = true, true
	}
}
