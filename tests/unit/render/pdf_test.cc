#include "render/pdf.h"

#include <cairo.h>
#include <doctest/doctest.h>
#include <qpdf/qpdf-c.h>

#include <cstddef>
#include <cstring>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "render/png.h"
#include "support.h"

using namespace pouchwright;
using render::PdfInfo;
using render::to_pdf;

namespace {

/// A finished file, read again. It keeps the bytes, since qpdf reads from them as it is asked.
class Reading {
 public:
  explicit Reading(std::string pdf) : pdf_(std::move(pdf)), data_(qpdf_init()) {
    qpdf_silence_errors(data_);
    qpdf_read_memory(data_, "test", pdf_.data(), pdf_.size(), nullptr);
    REQUIRE(qpdf_has_error(data_) == QPDF_FALSE);
    REQUIRE(qpdf_more_warnings(data_) == QPDF_FALSE);
  }
  ~Reading() { qpdf_cleanup(&data_); }
  Reading(const Reading&) = delete;
  Reading& operator=(const Reading&) = delete;

  [[nodiscard]] int pages() const { return qpdf_get_num_pages(data_); }
  [[nodiscard]] qpdf_oh root() const { return qpdf_get_root(data_); }
  [[nodiscard]] qpdf_oh trailer() const { return qpdf_get_trailer(data_); }
  [[nodiscard]] qpdf_oh page(std::size_t index) const { return qpdf_get_page_n(data_, index); }
  [[nodiscard]] qpdf_oh at(qpdf_oh object, const char* key) const {
    return qpdf_oh_get_key(data_, object, key);
  }
  [[nodiscard]] qpdf_oh at(qpdf_oh array, int index) const {
    return qpdf_oh_get_array_item(data_, array, index);
  }
  [[nodiscard]] bool has(qpdf_oh object, const char* key) const {
    return qpdf_oh_has_key(data_, object, key) == QPDF_TRUE;
  }
  [[nodiscard]] std::string text(qpdf_oh object) const {
    return qpdf_oh_get_utf8_value(data_, object);
  }
  [[nodiscard]] std::string source(qpdf_oh object) const {
    return qpdf_oh_unparse_resolved(data_, object);
  }
  [[nodiscard]] std::string reference(qpdf_oh object) const {
    return qpdf_oh_unparse(data_, object);
  }
  [[nodiscard]] std::vector<qpdf_oh> items(qpdf_oh object) const {
    if (qpdf_oh_is_array(data_, object) == QPDF_FALSE) return {object};
    std::vector<qpdf_oh> all;
    for (int k = 0; k < qpdf_oh_get_array_n_items(data_, object); ++k) all.push_back(at(object, k));
    return all;
  }
  [[nodiscard]] bool is_dictionary(qpdf_oh object) const {
    return qpdf_oh_is_dictionary(data_, object) == QPDF_TRUE;
  }
  [[nodiscard]] double number(qpdf_oh object) const {
    return qpdf_oh_get_numeric_value(data_, object);
  }

 private:
  std::string pdf_;
  qpdf_data data_;
};

/// A picture of ten dots a millimetre, read back by Cairo.
class Picture {
 public:
  explicit Picture(std::string_view png)
      : surface_(cairo_image_surface_create_from_png_stream(next, &png)) {
    REQUIRE(cairo_surface_status(surface_) == CAIRO_STATUS_SUCCESS);
  }
  ~Picture() { cairo_surface_destroy(surface_); }
  Picture(const Picture&) = delete;
  Picture& operator=(const Picture&) = delete;

  /// True where the dot at `x`, `y` mm is nearer to black than to white.
  [[nodiscard]] bool is_dark(double x, double y) const {
    const auto column = static_cast<std::ptrdiff_t>(x * 10);
    const auto row = static_cast<std::ptrdiff_t>(y * 10);
    return cairo_image_surface_get_data(
               surface_)[row * cairo_image_surface_get_stride(surface_) + 4 * column] < 128;
  }

 private:
  static cairo_status_t next(void* closure, unsigned char* data, unsigned int size) {
    auto& rest = *static_cast<std::string_view*>(closure);
    if (rest.size() < size) return CAIRO_STATUS_READ_ERROR;
    std::memcpy(data, rest.data(), size);
    rest.remove_prefix(size);
    return CAIRO_STATUS_SUCCESS;
  }

  cairo_surface_t* surface_;
};

/// The names in `<< /f-0-0 4 0 R /f-1-0 5 0 R >>`.
std::vector<std::string> keys_of(const std::string& dictionary) {
  std::vector<std::string> keys;
  for (auto at = dictionary.find('/'); at != std::string::npos; at = dictionary.find('/', at + 1)) {
    keys.push_back(dictionary.substr(at, dictionary.find(' ', at) - at));
  }
  return keys;
}

/// A structure element and those below it: `H1`, `L(LI LI)`, `Figure[its words]`.
std::string structure(const Reading& pdf, qpdf_oh element) {
  std::string below;
  for (const qpdf_oh one : pdf.items(pdf.at(element, "/K"))) {
    if (!pdf.is_dictionary(one) || !pdf.has(one, "/S")) continue;
    below += (below.empty() ? "" : " ") + structure(pdf, one);
  }
  std::string text = pdf.source(pdf.at(element, "/S")).substr(1);
  if (pdf.has(element, "/Alt")) text += "[" + pdf.text(pdf.at(element, "/Alt")) + "]";
  return below.empty() ? text : text + "(" + below + ")";
}

PdfInfo info() { return {.title = "Mask “ä” 袋 😀", .language = "en-GB"}; }

}  // namespace

TEST_CASE("every page is as large as its paper") {
  // ISO 216: A4 is 210 x 297 mm. PDF: 1 pt = 1/72 in, 1 in = 25.4 mm (ISO 32000-1, 8.3.2.3).
  const Reading pdf(to_pdf(card_pages(), info(), pinned_fonts()));
  REQUIRE(pdf.pages() == 2);
  for (const std::size_t page : {0U, 1U}) {
    const qpdf_oh box = pdf.at(pdf.page(page), "/MediaBox");
    CHECK(pdf.number(pdf.at(box, 0)) == 0);
    CHECK(pdf.number(pdf.at(box, 1)) == 0);
    CHECK(pdf.number(pdf.at(box, 2)) / 72 * 25.4 == doctest::Approx(210).epsilon(1e-6));
    CHECK(pdf.number(pdf.at(box, 3)) / 72 * 25.4 == doctest::Approx(297).epsilon(1e-6));
  }
}

TEST_CASE("viewers are asked to print at full size") {
  const Reading pdf(to_pdf(card_pages(), info(), pinned_fonts()));  // ISO 32000-1, 12.2
  const qpdf_oh wishes = pdf.at(pdf.root(), "/ViewerPreferences");
  CHECK(pdf.source(pdf.at(wishes, "/PrintScaling")) == "/None");
  CHECK(pdf.source(pdf.at(wishes, "/PickTrayByPDFSize")) == "true");
}

TEST_CASE("title and language survive any Unicode, and no date is written") {
  const Reading pdf(to_pdf(card_pages(), info(), pinned_fonts()));
  const qpdf_oh facts = pdf.at(pdf.trailer(), "/Info");
  CHECK(pdf.text(pdf.at(facts, "/Title")) == info().title);
  CHECK(pdf.text(pdf.at(pdf.root(), "/Lang")) == "en-GB");
  CHECK_FALSE(pdf.has(facts, "/CreationDate"));
  CHECK_FALSE(pdf.has(facts, "/ModDate"));
  CHECK_FALSE(pdf.has(pdf.root(), "/Metadata"));
}

TEST_CASE("pages carry their own labels") {
  const Reading pdf(to_pdf(card_pages(), info(), pinned_fonts()));  // ISO 32000-1, 12.4.2
  const qpdf_oh numbers = pdf.at(pdf.at(pdf.root(), "/PageLabels"), "/Nums");
  CHECK(pdf.number(pdf.at(numbers, 0)) == 0);
  CHECK(pdf.text(pdf.at(pdf.at(numbers, 1), "/P")) == "A1");
  CHECK(pdf.number(pdf.at(numbers, 2)) == 1);
  CHECK(pdf.text(pdf.at(pdf.at(numbers, 3), "/P")) == "B1");
}

TEST_CASE("a bookmark leads to the first page of each drawing") {
  paper::Pages pages = card_pages();
  pages.drawings.push_back({.name = "second", .title = "Second", .extent = {}, .items = {}});
  pages.pages[1].placements[0].drawing = 1;
  const Reading pdf(to_pdf(pages, info(), pinned_fonts()));
  const qpdf_oh outline = pdf.at(pdf.root(), "/Outlines");
  const qpdf_oh first = pdf.at(outline, "/First");
  const qpdf_oh last = pdf.at(outline, "/Last");
  CHECK(pdf.number(pdf.at(outline, "/Count")) == 2);
  CHECK(pdf.text(pdf.at(first, "/Title")) == pages.drawings[0].title);
  CHECK(pdf.text(pdf.at(last, "/Title")) == "Second");
  CHECK(pdf.reference(pdf.at(pdf.at(first, "/Dest"), 0)) == pdf.reference(pdf.page(0)));
  CHECK(pdf.reference(pdf.at(pdf.at(last, "/Dest"), 0)) == pdf.reference(pdf.page(1)));
  CHECK(pdf.reference(pdf.at(first, "/Next")) == pdf.reference(last));
}

TEST_CASE("several documents share a file, each under its own bookmark and page size") {
  std::vector<paper::Pages> documents = {card_pages(), card_pages()};
  documents[1].title = "Template";
  documents[1].width = 279.4;  // ANSI/ASME Y14.1 size A, turned: 11 x 8 1/2 in
  documents[1].height = 215.9;
  const Reading pdf(to_pdf(documents, info(), pinned_fonts()));
  REQUIRE(pdf.pages() == 4);
  const qpdf_oh second = pdf.at(pdf.at(pdf.at(pdf.root(), "/Outlines"), "/First"), "/Next");
  CHECK(pdf.text(pdf.at(second, "/Title")) == "Template");
  CHECK(pdf.reference(pdf.at(pdf.at(second, "/Dest"), 0)) == pdf.reference(pdf.page(2)));
  const qpdf_oh box = pdf.at(pdf.page(2), "/MediaBox");
  CHECK(pdf.number(pdf.at(box, 2)) == doctest::Approx(11 * 72));
  CHECK(pdf.number(pdf.at(box, 3)) == doctest::Approx(8.5 * 72));
}

TEST_CASE("fonts are embedded") {
  const Reading pdf(to_pdf(card_pages(), info(), pinned_fonts()));
  // ISO 32000-1, 9.9: an embedded TrueType font file is FontFile2.
  const qpdf_oh fonts = pdf.at(pdf.at(pdf.page(0), "/Resources"), "/Font");
  CHECK(pdf.source(fonts) != "null");
  CHECK(pdf.source(fonts) != "<< >>");
  const qpdf_oh font = pdf.at(fonts, "/f-0-0");
  CHECK(pdf.has(pdf.at(font, "/FontDescriptor"), "/FontFile2"));
}

TEST_CASE("of every font only the letters that are used are embedded, in every script") {
  paper::Pages pages = card_pages();
  pages.pages.resize(1);
  for (const char* words : {"لا تكوي", "इस्त्री न करें", "≈ 7"}) {
    pages.pages[0].furniture.push_back(label(words, {20, 270}));
  }
  const std::string bytes = to_pdf(pages, info(), pinned_fonts());
  const Reading pdf(bytes);
  const std::string fonts = pdf.source(pdf.at(pdf.at(pdf.page(0), "/Resources"), "/Font"));
  std::string names;
  for (const std::string& key : keys_of(fonts)) {
    const qpdf_oh font = pdf.at(pdf.at(pdf.at(pdf.page(0), "/Resources"), "/Font"), key.c_str());
    const std::string name = pdf.source(pdf.at(font, "/BaseFont"));
    CHECK(name.find('+') != std::string::npos);  // a subset (ISO 32000-1, 9.6.4)
    names += name;
  }
  for (const char* name : {"NotoSans-Regular", "NotoSansArabic", "NotoSansDevanagari", "Math"}) {
    CHECK(names.find(name) != std::string::npos);
  }
  CHECK(bytes.size() < 60'000);  // the files together have 1.6 million bytes
  // A page in Latin letters has none of them.
  CHECK(to_pdf(card_pages(), info(), pinned_fonts()).find("Arabic") == std::string::npos);
}

TEST_CASE("a full-size drawing is a picture with its title for whoever cannot see it") {
  // ISO 32000-1, 14.7.2 and 14.9.3.
  const Reading pdf(to_pdf(card_pages(), info(), pinned_fonts()));
  CHECK(pdf.source(pdf.at(pdf.at(pdf.root(), "/MarkInfo"), "/Marked")) == "true");
  const qpdf_oh document = pdf.at(pdf.at(pdf.root(), "/StructTreeRoot"), "/K");
  CHECK(pdf.source(pdf.at(document, "/S")) == "/Document");
  const qpdf_oh figure = pdf.at(pdf.at(document, "/K"), 0);
  CHECK(pdf.source(pdf.at(figure, "/S")) == "/Figure");
  CHECK(pdf.text(pdf.at(figure, "/Alt")) == card_pages().drawings[0].title);
  CHECK(pdf.reference(pdf.at(figure, "/P")) == pdf.reference(document));
}

TEST_CASE("words are read in the order in which they stand, by what they are") {
  using ink::Role;
  paper::Pages pages = card_pages();
  pages.content = paper::Content::sheets;
  pages.pages.resize(1);
  pages.pages[0].furniture.clear();
  std::vector<ink::Item>& items = pages.drawings[0].items;
  items.clear();
  const auto put = [&](const char* words, Role role, double size = ink::kLabelSize) {
    ink::Text text = label(words, {5, 10});
    text.size = size;
    text.role = role;
    items.emplace_back(std::move(text));
  };
  put("Title", Role::by_size, ink::kTitleSize);
  put("one", Role::by_size);
  put("more of it", Role::by_size);
  std::get<ink::Text>(items.back()).goes_on = true;
  put("1", Role::mark);
  put("first", Role::item);
  put("2", Role::mark);
  put("second", Role::item);
  put("thread", Role::row);
  put("120 m", Role::cell);
  put("tape", Role::row);
  put("page 1", Role::none);
  ink::Shape shown = outline({5, 20, 25, 40}, ink::Group::label);
  shown.figure = std::make_shared<const std::string>("A square.");
  items.emplace_back(shown);
  items.emplace_back(shown);
  put("last", Role::by_size);
  const Reading pdf(to_pdf(pages, info(), pinned_fonts()));
  const auto tree = structure(pdf, pdf.at(pdf.at(pdf.root(), "/StructTreeRoot"), "/K"));
  CHECK(
      tree ==
      "Document(H1 P L(LI(Lbl LBody) LI(Lbl LBody)) Table(TR(TD TD) TR(TD)) Figure[A square.] P)");
}

TEST_CASE("two runs give the same bytes, also with fonts loaded anew") {
  const std::string first = to_pdf(card_pages(), info(), pinned_fonts());
  const render::Fonts again(std::filesystem::path(POUCHWRIGHT_SOURCE) / "fonts");
  CHECK(first == to_pdf(card_pages(), info(), pinned_fonts()));
  CHECK(first == to_pdf(card_pages(), info(), again));
  paper::Pages other = card_pages();
  other.pages[0].label = "Z9";
  CHECK(first != to_pdf(other, info(), pinned_fonts()));
}

TEST_CASE("a picture has the size its resolution gives it") {
  // W3C PNG, 11.2.2: width and height are the two big-endian words after the IHDR tag.
  const std::string png = render::page_png(card_pages(), 0, 25.4, pinned_fonts());
  REQUIRE(png.substr(12, 4) == "IHDR");
  const auto word = [&png](std::size_t at) {
    int value = 0;
    for (std::size_t k = 0; k < 4; ++k) {
      value = value * 256 + static_cast<unsigned char>(png[at + k]);
    }
    return value;
  };
  CHECK(word(16) == 210);
  CHECK(word(20) == 297);
  CHECK(render::canvas_png(small_card(), 50.8, pinned_fonts()).substr(1, 3) == "PNG");
}

TEST_CASE("nothing of a drawing shows in a gap, and furniture does") {
  // By hand: the card's upper edge lies at y 35 on the paper, from x 25; the check square's at 200.
  paper::Pages pages = card_pages();
  CHECK(Picture(render::page_png(pages, 0, 254, pinned_fonts())).is_dark(50, 35));
  pages.pages[0].gaps = {{40, 33, 60, 37}, {30, 195, 60, 205}};
  const Picture picture(render::page_png(pages, 0, 254, pinned_fonts()));
  CHECK_FALSE(picture.is_dark(50, 35));
  CHECK_FALSE(picture.is_dark(40.2, 35));
  CHECK(picture.is_dark(39.8, 35));
  CHECK(picture.is_dark(60.2, 35));
  CHECK(picture.is_dark(50, 200));
}
