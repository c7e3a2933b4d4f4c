// TOML texts as trees with places. TOML 1.0.0 is the outside source for what a text means; columns
// that count code points are our own rule: editors count so.
#include "input/node.h"

#include "support.h"

using namespace pouchwright;
using namespace pouchwright::input;
using test::Lines;
using test::told;

namespace {

Node tree(const std::string& text) {
  base::Diagnostics diagnostics;
  const auto root = parsed({"job.toml", text}, diagnostics);
  REQUIRE(told(diagnostics) == Lines{});
  REQUIRE(root);
  return *root;
}

Lines refused(const std::string& text) {
  base::Diagnostics diagnostics;
  CHECK_FALSE(parsed({"job.toml", text}, diagnostics));
  return told(diagnostics);
}

/// `2:9-16`
std::string shown(const base::Place& place) {
  return std::to_string(place.line) + ":" + std::to_string(place.column) + "-" +
         std::to_string(place.end_column);
}

std::string repeated(const std::string& text, int count) {
  std::string all;
  for (int i = 0; i < count; ++i) all += text;
  return all;
}

const Node& at(const Node& root, std::string_view key) {
  const Node* node = root.find(key);
  REQUIRE(node);
  return *node;
}

}  // namespace

TEST_CASE("every kind of value is told apart and keeps its place") {
  const Node root = tree(
      "text = \"abc\"\nwhole = 12\ndecimal = 12.7\ntruth = true\nday = 2024-01-02\n"
      "list = [1, \"two\"]\ninline = { a = 1 }\n[table]\nb = 2\n[[tables]]\nc = 3\n");
  CHECK(at(root, "text").kind == Node::Kind::text);
  CHECK(at(root, "text").text == "abc");
  CHECK(shown(at(root, "text").place) == "1:8-13");
  CHECK(shown(at(root, "text").key_place) == "1:1-5");
  CHECK(at(root, "text").text_column == 9);
  CHECK(at(root, "whole").kind == Node::Kind::whole);
  CHECK(at(root, "whole").whole == 12);
  CHECK(shown(at(root, "whole").place) == "2:9-11");
  CHECK(at(root, "decimal").kind == Node::Kind::decimal);
  CHECK(at(root, "decimal").text == "12.7");
  CHECK(shown(at(root, "decimal").place) == "3:11-15");
  CHECK(at(root, "truth").kind == Node::Kind::boolean);
  CHECK(at(root, "truth").truth);
  CHECK(shown(at(root, "truth").place) == "4:9-13");
  CHECK(at(root, "day").kind == Node::Kind::moment);
  CHECK(shown(at(root, "day").place) == "5:7-17");
  CHECK(at(root, "list").kind == Node::Kind::array);
  REQUIRE(at(root, "list").items.size() == 2);
  CHECK(shown(at(root, "list").items[1].place) == "6:12-17");
  CHECK(at(root, "inline").kind == Node::Kind::table);
  CHECK(shown(at(root, "inline").place) == "7:10-19");
  CHECK(at(root, "table").kind == Node::Kind::table);
  CHECK(at(root, "table").place.line == 8);
  CHECK(at(root, "table").place.column == 1);
  CHECK(at(root, "tables").kind == Node::Kind::array);
  REQUIRE(at(root, "tables").items.size() == 1);
  CHECK(at(root, "tables").items[0].place.line == 10);
}

TEST_CASE("numbers stay as they are written") {
  const Node root = tree("[a]\nb = 12.700000\nc = +1_000\nd = nan\ne = -inf\nf = 1e3\ng = 0x1F\n");
  const Node& a = at(root, "a");
  CHECK(at(a, "b").text == "12.700000");
  CHECK(at(a, "c").text == "+1_000");
  CHECK(at(a, "c").whole == 1000);
  CHECK(at(a, "d").text == "nan");
  CHECK(at(a, "e").text == "-inf");
  CHECK(at(a, "f").text == "1e3");
  CHECK(at(a, "f").decimal == 1000);
  CHECK(at(a, "g").text == "0x1F");
}

TEST_CASE("keys come in the order of the file, not of the alphabet") {
  const Node root = tree("zebra = 1\nbear = 2\nape = 3\n");
  REQUIRE(root.entries.size() == 3);
  CHECK(root.entries[0].key == "zebra");
  CHECK(root.entries[2].key == "ape");
}

TEST_CASE("columns count code points, not bytes") {
  const Node root = tree("\"größe\" = 7.5\na = [\"½″\", 12.7]\n");
  CHECK(shown(at(root, "größe").place) == "1:11-14");
  CHECK(at(root, "größe").text == "7.5");
  CHECK(shown(at(root, "a").items[1].place) == "2:12-16");
  CHECK(at(root, "a").items[1].text == "12.7");
}

TEST_CASE("columns inside a text are only known where it stands as written") {
  const Node root = tree("a = \"x\\ty\"\nb = '''x'''\nc = 'x'\nd = \"\"\n");
  CHECK(at(root, "a").text_column == 0);
  CHECK(at(root, "b").text_column == 0);
  CHECK(at(root, "c").text_column == 6);
  CHECK(at(root, "d").text_column == 6);
}

TEST_CASE("a byte order mark does not shift the first line") {
  const Node root = tree(
      "\xEF\xBB\xBF"
      "ab = 12.5\n");
  CHECK(shown(at(root, "ab").place) == "1:6-10");
  CHECK(at(root, "ab").text == "12.5");
}

TEST_CASE("lines may end as on another system") {
  const Node root = tree("a = 1\r\nb = 12.5\r\n");
  CHECK(shown(at(root, "b").place) == "2:5-9");
}

TEST_CASE("a syntax error is told at its place, and only the first") {
  CHECK(refused("a = 1\nb = = 2\nc = = 3\n") == Lines{"2:5 syntax-value"});
  CHECK(refused("a = 1\na = 2\n") == Lines{"2:5 syntax-twice"});
  CHECK(refused("[a]\n[a]\n") == Lines{"2:1 syntax-twice"});
  CHECK(refused("a = \"open\n") == Lines{"1:10 syntax-text"});
  CHECK(refused("a = 'open\n") == Lines{"1:10 syntax-text"});
  CHECK(refused("a = \"\\q\"") == Lines{"1:7 syntax-escape"});
  CHECK(refused("a = 180 mm") == Lines{"1:9 syntax-behind-value"});
  CHECK(refused("a = 1,5") == Lines{"1:6 syntax-behind-value"});
  CHECK(refused("a: 5") == Lines{"1:2 syntax-no-equals"});
  CHECK(refused("[a\n") == Lines{"1:3 syntax-header"});
  CHECK(refused("a = [1 2]") == Lines{"1:8 syntax-list"});
  CHECK(refused("a = { b = 1\n") == Lines{"1:12 syntax-list"});
  CHECK(refused("a = mm") == Lines{"1:5 syntax-value"});
  CHECK(refused("a = 007") == Lines{"1:8 syntax-value"});
  CHECK(refused("a = 99999999999999999999").at(0).find("syntax-value") != std::string::npos);
  CHECK(refused("a = 12..3") == Lines{"1:8 syntax-value"});
  CHECK(refused("= 1") == Lines{"1:1 file-syntax"});
}

TEST_CASE("binary junk is told at its first byte that is no text (RFC 3629)") {
  CHECK(refused(std::string("\x7F"
                            "ELF\x02\x01\x01\0\0\0",
                            10)) == Lines{"1:1 file-not-text most=64"});
  CHECK(refused("a = 1\nb = \"\xC3\x28\"\n") == Lines{"2:6 file-not-text most=64"});
  CHECK(refused("a = \"\xED\xA0\x80\"") == Lines{"1:6 file-not-text most=64"});      // surrogate
  CHECK(refused("a = \"\xC0\xAF\"") == Lines{"1:6 file-not-text most=64"});          // overlong
  CHECK(refused("a = \"\xF4\x90\x80\x80\"") == Lines{"1:6 file-not-text most=64"});  // too high
  CHECK(refused("a = \"\xE2\x82") == Lines{"1:6 file-not-text most=64"});            // broken off
  CHECK(refused(std::string("# \0\n", 4)) == Lines{"1:3 file-not-text most=64"});
}

TEST_CASE("a backslash before a letter of two bytes is no junk, but no escape either") {
  CHECK(refused("a = \"\\é\"\n") == Lines{"1:7 syntax-escape"});
}

TEST_CASE("a backslash at the end of a line does not lose the line") {
  CHECK(refused("a = \"\"\"x\\\n  y\"\"\"\nb = \"\x01\"\n") ==
        Lines{"3:6 file-control-character most=64"});
}

TEST_CASE("a stray control character is told apart from a file that is no text") {
  CHECK(refused("a = 1\nb = \"\x7f\"\n") == Lines{"2:6 file-control-character most=64"});
  CHECK(refused(std::string("\x7f\0 = 1", 6)) == Lines{"1:1 file-not-text most=64"});
}

TEST_CASE("a file over the limit is refused before it is read") {
  CHECK(refused(std::string(kMostBytes + 1, '\n')) == Lines{"0:0 file-too-large most=256"});
  const Node root = tree("a = 1\n" + std::string(kMostBytes - 6, '\n'));
  CHECK(root.entries.size() == 1);
}

TEST_CASE("a key may have 64 dotted parts and no more") {
  const std::string most = repeated("a.", kMostDepth - 1) + "a";
  CHECK(tree(most + " = 1").entries.size() == 1);
  CHECK(tree("[" + most + "]").entries.size() == 1);
  CHECK(refused(most + ".a = 1") == Lines{"1:128 key-too-deep most=64"});
  CHECK(refused("b = 1\n[" + most + ".a]") == Lines{"2:129 key-too-deep most=64"});
  CHECK(refused("b = { " + most + ".a = 1 }") == Lines{"1:134 key-too-deep most=64"});
}

TEST_CASE("forty thousand dots and brackets are refused where they become too many") {
  CHECK(refused(repeated("a.", 40'000) + "a = 1") == Lines{"1:128 key-too-deep most=64"});
  CHECK(refused("a = " + std::string(40'000, '[')) == Lines{"1:69 brackets-too-deep most=64"});
  CHECK(refused("a = " + repeated("{a=", 40'000)) == Lines{"1:197 brackets-too-deep most=64"});
}

TEST_CASE("a file of one long line is read to its end") {
  const Node list = tree("a = [\"½\", " + repeated("1,", 100'000) + "12.70]");
  CHECK(list.find("a")->items.size() == 100'002);
  CHECK(list.find("a")->items.back().text == "12.70");
  // Keys that sort otherwise than they stand.
  std::string keys = "a = { ";
  for (int i = 0; i < 20'000; ++i) keys += "k" + std::to_string(i) + " = 1, ";
  CHECK(tree(keys + "z = 12.70 }").find("a")->find("z")->text == "12.70");
}

TEST_CASE("brackets may nest 64 deep, their keys' dotted parts counted") {
  CHECK(tree("a = " + std::string(64, '[') + std::string(64, ']')).entries.size() == 1);
  // The parts of the key inside all brackets are limited as those of any key.
  const std::string key = repeated("a.", 63) + "a = ";
  CHECK(tree(key + "{" + key + "1}").entries.size() == 1);
  CHECK(refused(key + "{" + key + "{ b = 1 }}") == Lines{"1:262 brackets-too-deep most=64"});
  // 21 brackets under keys of three parts each are 63 deep.
  const std::string three = "a.a.a = {";
  CHECK(tree(repeated(three, 21) + "b = 1" + std::string(21, '}')).entries.size() == 1);
  CHECK(refused(repeated(three, 22) + "b = 1" + std::string(22, '}')) ==
        Lines{"1:198 brackets-too-deep most=64"});
  // One after the other they do not add up; nor do numbers' points.
  CHECK(tree("a = [" + repeated("{ a.a.a = 1.5 }, ", 100) + "1.5]").entries.size() == 1);
}

TEST_CASE("dots and brackets inside texts and comments are not counted") {
  const std::string dots(100, '.');
  const std::string brackets(100, '[');
  const Node root = tree("# " + dots + brackets + "\na = \"" + dots + brackets + "\"\nb = '" +
                         brackets + "'\nc = \"\"\"\n" + brackets + "\"\"\"\nd = '''\n" + dots +
                         "'''\ne = [1.5, 2.5, 3.5]\n\"a\\\"" + brackets + "\" = 1\n");
  CHECK(root.entries.size() == 6);
}

TEST_CASE("an override takes the place of a value and is its own place") {
  Node root = tree("[pouch]\nwidth = \"190 mm\"\n");
  base::Diagnostics diagnostics;
  apply(test::set("pouch.width", "7 1/4 in"), root, diagnostics);
  apply(test::set("liners.count", "3"), root, diagnostics);
  apply(test::set("title", "two words"), root, diagnostics);
  CHECK(told(diagnostics) == Lines{});
  const Node& width = at(at(root, "pouch"), "width");
  CHECK(width.kind == Node::Kind::text);
  CHECK(width.text == "7 1/4 in");
  CHECK(width.place == base::Place{"--set pouch.width=7 1/4 in", 1, 15, 23});
  CHECK(width.text_column == 15);
  const Node& count = at(at(root, "liners"), "count");
  CHECK(count.kind == Node::Kind::whole);
  CHECK(count.whole == 3);
  CHECK(count.place == base::Place{"--set liners.count=3", 1, 16, 17});
  CHECK(at(root, "title").text == "two words");
}

TEST_CASE("an override's value is TOML where it can be") {
  Node root = tree("");
  base::Diagnostics diagnostics;
  apply(test::set("a", "\"x\""), root, diagnostics);
  apply(test::set("b", "true"), root, diagnostics);
  apply(test::set("c.d", "{ finish = \"overedge\" }"), root, diagnostics);
  apply(test::set("e", "[\"x\"]"), root, diagnostics);
  apply(test::set("f", "ö"), root, diagnostics);
  apply(test::set("g", ""), root, diagnostics);
  CHECK(told(diagnostics) == Lines{});
  CHECK(at(root, "a").text == "x");
  CHECK(at(root, "b").truth);
  CHECK(at(at(at(root, "c"), "d"), "finish").text == "overedge");
  CHECK(at(root, "e").items.size() == 1);
  CHECK(at(root, "f").place.end_column == 6);
  CHECK(at(root, "g").kind == Node::Kind::text);
  CHECK(at(root, "g").text.empty());
}

TEST_CASE("an override cannot bring in a second value") {
  Node root = tree("");
  base::Diagnostics diagnostics;
  apply(test::set("title", "\"x\"\nunits = \"in\""), root, diagnostics);
  CHECK(root.entries.size() == 1);
  CHECK(at(root, "title").kind == Node::Kind::text);
  CHECK(at(root, "title").text == "\"x\"\nunits = \"in\"");
}

TEST_CASE("an override below a value puts a table in its place") {
  Node root = tree("finish = \"none\"\n");
  base::Diagnostics diagnostics;
  apply(test::set("finish.takes", "2mm"), root, diagnostics);
  const Node& finish = at(root, "finish");
  CHECK(finish.kind == Node::Kind::table);
  CHECK(finish.text.empty());
  CHECK(finish.place.file == "--set finish.takes=2mm");
  CHECK(finish.entries.size() == 1);
}

TEST_CASE("an override that names nothing is told") {
  for (const std::string path : {"a..b", ".a", "a.", "a b", "é", "a=b"}) {
    Node root = tree("");
    base::Diagnostics diagnostics;
    apply(test::set(path, "1"), root, diagnostics);
    CHECK(told(diagnostics, "--set " + path + "=1") == Lines{"1:1 set-no-path path=" + path});
    CHECK(root.entries.empty());
  }
  Node root = tree("");
  base::Diagnostics diagnostics;
  apply({"--set deep", repeated("a.", 64) + "a", "1"}, root, diagnostics);
  CHECK(told(diagnostics).size() == 1);
}

TEST_CASE("an override cannot reach into a list or set one of tables") {
  Node root = tree("[[remnant]]\nwidth = 1\n");
  base::Diagnostics diagnostics;
  apply(test::set("remnant.width", "2"), root, diagnostics);
  apply(test::set("other", "[{ width = 2 }]"), root, diagnostics);
  CHECK(told(diagnostics) == Lines{"--set other=[{ width = 2 }]:1:9 set-in-array key=other",
                                   "--set remnant.width=2:1:1 set-in-array key=remnant"});
  CHECK(at(at(root, "remnant").items[0], "width").whole == 1);
}
