// The data files: words, papers, materials.
#include "input/data.h"

#include "support.h"

using namespace pouchwright;
using namespace pouchwright::input;
using base::Length;
using base::Unit;
using test::Lines;
using test::told;

namespace {

struct Read {
  std::vector<pouch::Material> materials;
  Lines told;
};

Read materials(const std::string& text) {
  base::Diagnostics diagnostics;
  Read read;
  read.materials = read_materials({"materials.toml", text}, diagnostics);
  read.told = told(diagnostics, "materials.toml");
  return read;
}

const PaperSize& paper_named(const std::vector<PaperSize>& papers, const std::string& name) {
  for (const PaperSize& one : papers) {
    if (one.name == name) return one;
  }
  FAIL("no paper " << name);
  return papers.front();
}

}  // namespace

TEST_CASE("papers are as their standards have them") {
  const auto papers = test::library().papers;
  struct Known {
    const char* name;
    Length width, height;
  };
  const auto mm = [](std::int64_t count) { return Length::whole_mm(count); };
  const auto in = [](std::int64_t n, std::int64_t d = 1) { return Length::inches(n, d); };
  const std::vector<Known> known = {// ISO 216, A series.
                                    {"A0", mm(841), mm(1189)},
                                    {"A1", mm(594), mm(841)},
                                    {"A2", mm(420), mm(594)},
                                    {"A3", mm(297), mm(420)},
                                    {"A4", mm(210), mm(297)},
                                    {"A5", mm(148), mm(210)},
                                    {"A6", mm(105), mm(148)},
                                    // ASME Y14.1: A is Letter, B is Tabloid, then C, D, E.
                                    {"Letter", in(17, 2), in(11)},
                                    {"Tabloid", in(11), in(17)},
                                    {"C", in(17), in(22)},
                                    {"D", in(22), in(34)},
                                    {"E", in(34), in(44)},
                                    // Common practice, no source.
                                    {"Legal", in(17, 2), in(14)}};
  for (const Known& one : known) {
    CAPTURE(one.name);
    const PaperSize& found = paper_named(papers, one.name);
    CHECK(found.width == one.width);
    CHECK(found.height == one.height);
    CHECK(paper_of(one.name, Unit::mm, papers)->name == one.name);
  }
}

TEST_CASE("each A paper is half the one before it, rounded down to a millimetre (ISO 216)") {
  const auto papers = test::library().papers;
  for (int i = 0; i < 6; ++i) {
    const PaperSize& large = paper_named(papers, "A" + std::to_string(i));
    const PaperSize& small = paper_named(papers, "A" + std::to_string(i + 1));
    CHECK(small.height == large.width);
    CHECK(small.width == base::rounded_down(base::half(large.height), Length::whole_mm(1)));
  }
}

TEST_CASE("a paper is called by name in either case, or by its size") {
  const auto papers = test::library().papers;
  CHECK(paper_of("a4", Unit::mm, papers)->name == "A4");
  CHECK(paper_of("LETTER", Unit::mm, papers)->name == "Letter");
  CHECK(paper_of("100x200", Unit::mm, papers)->width == Length::whole_mm(100));
  CHECK(paper_of("10 x 12", Unit::inch, papers)->height == Length::inches(12));
  CHECK(paper_of("100x200", Unit::mm, papers)->name == "100x200");
  for (const char* text : {"", "A44", "100", "0x100", "-5 x 10 mm", "x"}) {
    CAPTURE(text);
    CHECK_FALSE(paper_of(text, Unit::mm, papers));
  }
}

TEST_CASE("every material of the program can be read") {
  const auto known = test::library().materials;
  REQUIRE(known.size() == 10);
  CHECK(known[0].name == kLaminate);
  CHECK(known[0].kind == pouch::MaterialKind::laminate);
  CHECK(known[0].width == Length::whole_mm(1500));
  CHECK(known[0].selvedge == Length());
  CHECK_FALSE(known[0].frays);
  CHECK(known[3].name == "cotton-110");
  CHECK(known[3].kind == pouch::MaterialKind::outer);
  // 1100 mm, of which the wash takes 2 % (ISO 5077), less two selvedges of 10 mm.
  CHECK(known[3].usable_width() == Length::whole_mm(1058));
  CHECK(known[3].turn == pouch::Turn::along);
  CHECK(known[3].frays);
  CHECK(known[3].shrink_length == 0.04);
}

TEST_CASE("all that a material can say is read") {
  const auto read = materials(
      "[m]\nkind = \"laminate\"\nwidth = \"60 in\"\nselvedge = \"1/2 in\"\nthickness = \"0.4 mm\"\n"
      "film = \"both\"\nturn = \"across\"\nfrays = true\nshrink_length = 0.03\n"
      "shrink_width = 0.01\nprice = 12.5\nper = \"yd\"\n");
  CHECK(read.told == Lines{});
  REQUIRE(read.materials.size() == 1);
  const auto& m = read.materials[0];
  CHECK(m.kind == pouch::MaterialKind::laminate);
  CHECK(m.width == Length::inches(60));
  CHECK(m.selvedge == Length::inches(1, 2));
  CHECK(m.thickness == Length::nm(400'000));
  CHECK(m.film == pouch::FilmFaces::both);
  CHECK(m.turn == pouch::Turn::across);
  CHECK(m.frays);
  CHECK(m.shrink_length == 0.03);
  CHECK(m.shrink_width == 0.01);
  CHECK(m.price == 12.5);
  CHECK(m.price_per == "yd");
  CHECK(m.place.line == 1);
}

TEST_CASE("only what is known of a material needs stating") {
  const auto read =
      materials("[l]\nwidth = 1500\n[o]\nkind = \"outer\"\nwidth = 1100\nprice = 8\n");
  CHECK(read.told == Lines{});
  REQUIRE(read.materials.size() == 2);
  // Thicknesses: common practice, no source.
  CHECK(read.materials[0].thickness == Length::nm(350'000));
  CHECK(read.materials[0].film == pouch::FilmFaces::one);
  CHECK(read.materials[0].turn == pouch::Turn::either);
  CHECK_FALSE(read.materials[0].frays);
  CHECK(read.materials[0].price_per.empty());
  CHECK(read.materials[1].thickness == Length::nm(250'000));
  CHECK(read.materials[1].price_per == "m");
}

TEST_CASE("what is wrong in a material is told") {
  const auto read = materials(
      "[a]\nkind = \"paper\"\nwidht = 5\n[b]\nwidth = 0\nselvedge = -1\nshrink_width = 0.6\n"
      "[c]\nkind = \"outer\"\nwidth = 10\nselvedge = 5\nfilm = \"one\"\nper = \"kg\"\n");
  CHECK(read.told == Lines{"1:1 key-missing key=a.width", "2:8 not-a-choice key=a.kind text=paper",
                           "3:1 key-unknown key=a.widht", "5:9 length-zero key=b.width text=0",
                           "6:12 length-negative key=b.selvedge text=-1",
                           "7:16 out-of-range key=b.shrink_width text=0.6 least=0 most=0.5",
                           "11:12 selvedge-too-wide name=c", "12:1 key-unknown key=c.film",
                           "13:7 not-a-choice key=c.per text=kg"});
  CHECK(materials("a = 5\n").told == Lines{"1:5 wrong-kind-table key=a"});
}

TEST_CASE("papers that are no size are told") {
  base::Diagnostics diagnostics;
  const auto papers =
      read_papers({"papers.toml", "A = \"1 x 2 mm\"\nB = \"1\"\nC = 3\n"}, diagnostics);
  CHECK(papers.size() == 1);
  CHECK(told(diagnostics, "papers.toml") ==
        Lines{"2:5 not-a-size key=B text=1", "3:5 wrong-kind-text key=C"});
}

TEST_CASE("words are joined to one table of keys") {
  base::Diagnostics diagnostics;
  const auto words = read_words({"xx.toml", "\"a-b\" = \"x {y}\"\n[t]\nc = \"z\"\n"}, diagnostics);
  CHECK(told(diagnostics) == Lines{});
  CHECK(words.filled("a-b", {{"y", "1"}}) == "x 1");
  CHECK(words.filled("t.c", {}) == "z");
  CHECK_FALSE(words.has("c"));
}

TEST_CASE("the program's own words can be read, and none is empty") {
  base::Diagnostics diagnostics;
  const auto words = read_words(test::source_file("shared/words/en.toml"), diagnostics);
  CHECK(told(diagnostics) == Lines{});
  CHECK(words.table().size() > 300);
  for (const auto& word : words.table()) {
    CAPTURE(word.first);
    CHECK_FALSE(word.second.empty());
  }
}

TEST_CASE("words read without the TOML library are those that it reads") {
  const auto read = [](const std::string& text) {
    base::Diagnostics diagnostics;
    auto words = read_words({"xx.toml", text}, diagnostics);
    CAPTURE(text);
    CHECK(told(diagnostics) == Lines{});
    return words;
  };
  // A table at the end makes the whole file one for the library.
  const auto both_ways = [&](const std::string& text) {
    const auto words = read(text);
    const auto by_library = read(text + "[t]\n");
    CHECK(words.table() == by_library.table());
    return words;
  };
  both_ways(test::source_file("shared/words/en.toml").text);
  const auto words = both_ways(
      "# a comment\n\n\"b\" = \"say \\\"go\\\"\"\n\"a\" = \"\\\\ ½ {x}\"\n\"c\" = \"\"\n");
  CHECK(words.filled("b", {}) == "say \"go\"");
  CHECK(words.filled("a", {}) == "\\ ½ {x}");
  CHECK(words.filled("c", {}).empty());
  both_ways("\"a\" = \"\\u00BD\"\n");
  both_ways("a = 'x'\n\"b\"=\"y\"\n");
  both_ways("\"a\" = \"\"\"x\ny\"\"\"\n");
  both_ways("\"a\" = \"x\" # \"\n");
}

TEST_CASE("what is wrong with a words file is told as of any file") {
  // TOML v1.0.0: keys are given once; strings hold no control characters and only UTF-8.
  for (const char* text :
       {"\"a\" = \"x\"\n\"a\" = \"y\"\n", "\"a\" = \"x\x01\"\n", "\"a\" = \"\xFF\"\n",
        "\"a\" = \"x\\\"\n", "\"a\" = \"x\" y\"\n", "\" = \"x\"\n"}) {
    base::Diagnostics diagnostics;
    (void)read_words({"xx.toml", text}, diagnostics);
    CAPTURE(text);
    CHECK(diagnostics.has_errors());
  }
}
