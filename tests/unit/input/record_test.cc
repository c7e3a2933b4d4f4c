// Records as people write and spreadsheets export them.
#include "input/record.h"

#include <doctest/doctest.h>

#include "input/csv.h"

using namespace pouchwright;
using namespace pouchwright::input;

namespace {

const RecordWords kWords{{{"press-sides", "press-sides"}, {"press both sides", "press-sides"}},
                         base::Unit::mm};

struct Read {
  std::optional<batch::Record> record;
  base::Diagnostics told;
};

Read read(const std::string& text, const RecordWords& words = kWords) {
  Read made;
  made.record = read_record({"march.csv", text}, words, made.told);
  return made;
}

std::string error_of(const std::string& text) {
  const Read made = read(text);
  CHECK_FALSE(made.record);
  const auto errors = made.told.sorted(base::Severity::error);
  REQUIRE_FALSE(errors.empty());
  return errors.front().message.key;
}

/// Of the one row that was left out.
batch::RowLeftOut left_out(const std::string& rows) {
  const Read made = read("bundle,operation,minutes,pouches,leaks,dots,steam,seconds,held\n" + rows);
  REQUIRE(made.record);
  REQUIRE(made.record->left_out.size() == 1);
  return made.record->left_out.front();
}

}  // namespace

TEST_CASE("columns are known by name in any order, and the separators may be either") {
  for (const char* text : {"leaks,operation,pouches,bundle,minutes\n1,test,5,3,\"2,5\"\n",
                           "\xEF\xBB\xBF"
                           "bundle;Minutes;OPERATION;pouches;leaks\r\n3;2,5;Test;5;1\r\n",
                           "bundle;minutes;operation;pouches;leaks\n 3 ;2.5; \"test\" ;5;1"}) {
    CAPTURE(text);
    const Read made = read(text);
    REQUIRE(made.record);
    CHECK(made.record->left_out.empty());
    REQUIRE(made.record->rows.size() == 1);
    const batch::RecordRow& row = made.record->rows.front();
    CHECK(row.of.bundle == 3);
    CHECK(row.operation == "test");
    CHECK(row.minutes == 2.5);
    CHECK(row.pouches == 5);
    CHECK(row.leaks == 1);
  }
}

TEST_CASE("an operation goes by its name in words as well") {
  const Read made = read("bundle,operation,helper\n1,Press both sides,Ada\n");
  REQUIRE(made.record);
  REQUIRE(made.record->rows.size() == 1);
  CHECK(made.record->rows[0].operation == "press-sides");
  CHECK(made.record->rows[0].helper == "Ada");
}

TEST_CASE("a wrong row is told with its line and column, and the others are read") {
  // The column counts letters, not bytes.
  const Read made =
      read("helper,bundle,operation,minutes\nZoë,1,press-sides,-3\nZoë,2,press-sides,3\n");
  REQUIRE(made.record);
  CHECK(made.record->rows.size() == 1);
  REQUIRE(made.record->left_out.size() == 1);
  CHECK(made.record->left_out[0].at == base::Place{"march.csv", 2, 19, 21});
  CHECK(made.record->left_out[0].why.key == "record-negative");
}

TEST_CASE("each fault of a row has its words") {
  CHECK(left_out("1,knit,,,,,,,\n2,press-sides,,,,,,,\n").why.key == "record-operation-unknown");
  CHECK(left_out("1,press-side,,,,,,,\n2,press-sides,,,,,,,\n").why.key == "record-operation-near");
  CHECK(left_out(",press-sides,,,,,,,\n").why.key == "record-no-bundle");
  CHECK(left_out("1,,,,,,,,\n").why.key == "record-no-operation");
  CHECK(left_out("1,test,,5,,,,,\n").why.key == "record-no-leaks");
  CHECK(left_out("1,test,,5,half,,,,\n").why.key == "record-no-number");
  CHECK(left_out("1,test,,5,0.5,,,,\n").why.key == "record-no-whole");
  CHECK(left_out("1,test,,9999,0,,,,\n").why.key == "record-too-many");
  CHECK(left_out(",trial,,,,2,,8,\n").why.key == "record-trial-lacks");
  CHECK(left_out(",trial,,,,2,,8,maybe\n").why.key == "record-no-truth");
  CHECK(left_out(",trial,,,,1,yes,8,yes\n").why.key == "record-steam-at-one-dot");
  CHECK(left_out("1,press-sides,2,5,,,,,,7\n").why.key == "record-more-cells");
  CHECK(left_out("1,\"press-sides,,,,,,,\n").why.key == "record-torn");
  CHECK(left_out(std::string("1,press-sides\0,,,,,,,\n", 22)).why.key == "record-no-letters");
  CHECK(left_out("1,press-sides\xFF,,,,,,,\n").why.key == "record-no-letters");
}

TEST_CASE("a quote that nobody closes costs its own row alone") {
  const Read made = read("bundle,operation,note\n1,press-sides,\"oh\n" + [] {
    std::string rows;
    for (int i = 2; i < 40; ++i) rows += std::to_string(i) + ",press-sides,\n";
    return rows;
  }());
  REQUIRE(made.record);
  CHECK(made.record->left_out.size() == 1);
  CHECK(made.record->rows.size() == 38);
}

TEST_CASE("quotes hold separators, lines and quotes") {
  const CsvFile file = read_csv("a,b\n\"x \"\"y\"\", z\nnext\",2\n");
  REQUIRE(file.rows.size() == 2);
  CHECK(file.rows[1].cells[0].text == "x \"y\", z\nnext");
  CHECK(file.rows[1].cells[1].text == "2");
  CHECK(file.rows[1].cells[1].line == 3);
}

TEST_CASE("a file that is no record of this job is refused as a whole") {
  CHECK(error_of("") == "record-empty");
  CHECK(error_of("\n \n") == "record-empty");
  CHECK(error_of("a,b\n1,2\n") == "record-column-missing");
  CHECK(error_of("bundle,operation,bundle\n1,test,2\n") == "record-column-twice");
  CHECK(error_of("bundle,operation\n1,knit\n2,purl\n") == "record-other-job");
  CHECK(error_of(std::string(4096, '\0')) == "record-column-missing");
  CHECK(error_of(std::string(kMostRecordBytes + 1, 'x')) == "record-file-too-large");
}

TEST_CASE("a head alone is a record of nothing yet, and it is the form's own head") {
  const Read made = read(record_head() + "\n");
  REQUIRE(made.record);
  CHECK(made.record->rows.empty());
  CHECK(made.told.sorted().empty());
}

TEST_CASE("seals are read in the job's unit") {
  const Read made = read("bundle;operation;clear_seal\n1;press-sides;3/16\n",
                         {kWords.operations, base::Unit::inch});
  REQUIRE(made.record);
  REQUIRE(made.record->rows.size() == 1);
  CHECK(made.record->rows[0].clear_seal == base::Length::inches(3, 16));
}
