#include "render/finish.h"

// qpdf's C interface: its C++ headers do not compile as C++20 with clang 14 and libstdc++ 12.
#include <qpdf/qpdf-c.h>

#include <string_view>

#include "base/diagnostic.h"
#include "render/fonts.h"

namespace pouchwright::render {
namespace {

/// A PDF held by qpdf. Objects are qpdf's numbers for them, good as long as this lives.
class File {
 public:
  using Object = qpdf_oh;

  explicit File(const std::string& bytes) : data_(qpdf_init()) {
    qpdf_silence_errors(data_);
    qpdf_set_suppress_warnings(data_, QPDF_TRUE);
    qpdf_read_memory(data_, "pages", bytes.data(), bytes.size(), nullptr);
    check();
  }
  ~File() { qpdf_cleanup(&data_); }
  File(const File&) = delete;
  File& operator=(const File&) = delete;

  Object root() { return qpdf_get_root(data_); }
  Object trailer() { return qpdf_get_trailer(data_); }
  Object page(std::size_t index) { return qpdf_get_page_n(data_, index); }

  Object dictionary() { return qpdf_oh_new_dictionary(data_); }
  Object array() { return qpdf_oh_new_array(data_); }
  Object number(long long value) { return qpdf_oh_new_integer(data_, value); }
  Object real(double value) { return qpdf_oh_new_real_from_double(data_, value, 6); }
  Object name(const char* name) { return qpdf_oh_new_name(data_, name); }
  Object boolean(bool value) { return qpdf_oh_new_bool(data_, value ? QPDF_TRUE : QPDF_FALSE); }
  Object text(const std::string& words) {
    return qpdf_oh_new_unicode_string(data_, valid_utf8(words).c_str());
  }
  Object shared(Object object) { return qpdf_make_indirect_object(data_, object); }
  void set(Object dictionary, const char* key, Object value) {
    qpdf_oh_replace_key(data_, dictionary, key, value);
  }
  void append(Object array, Object item) { qpdf_oh_append_item(data_, array, item); }
  Object at(Object dictionary, const char* key) { return qpdf_oh_get_key(data_, dictionary, key); }
  bool is_dictionary(Object object) { return qpdf_oh_is_dictionary(data_, object) == QPDF_TRUE; }
  bool is_name(Object object, std::string_view name) {
    return qpdf_oh_is_name(data_, object) == QPDF_TRUE && name == qpdf_oh_get_name(data_, object);
  }
  /// The items of an array, or the one object that stands in its place.
  std::vector<Object> items(Object object) {
    if (qpdf_oh_is_array(data_, object) == QPDF_FALSE) return {object};
    std::vector<Object> all;
    for (int k = 0; k < qpdf_oh_get_array_n_items(data_, object); ++k) {
      all.push_back(qpdf_oh_get_array_item(data_, object, k));
    }
    return all;
  }

  std::string written() {
    check();
    qpdf_init_write_memory(data_);
    qpdf_set_deterministic_ID(data_, QPDF_TRUE);
    qpdf_set_object_stream_mode(data_, qpdf_o_generate);
    qpdf_set_minimum_pdf_version(data_, "1.7");  // PickTrayByPDFSize came with it
    qpdf_write(data_);
    check();
    // Bytes are bytes: qpdf hands out unsigned char, std::string holds char.
    return {reinterpret_cast<const char*>(qpdf_get_buffer(data_)), qpdf_get_buffer_length(data_)};
  }

 private:
  void check() {
    if (qpdf_has_error(data_) == QPDF_FALSE) return;
    const char* reason = qpdf_get_error_full_text(data_, qpdf_get_error(data_));
    throw base::Failure({}, {"pdf-not-finished", {{"reason", reason}}});
  }

  qpdf_data data_;
};

using Object = File::Object;

Object viewer_preferences(File& file) {
  const Object wishes = file.dictionary();
  file.set(wishes, "/PrintScaling", file.name("/None"));
  file.set(wishes, "/PickTrayByPDFSize", file.boolean(true));
  return wishes;
}

/// Every page's own name (ISO 32000-1, 12.4.2): a range of one page each, with nothing counted.
Object page_labels(File& file, const std::vector<std::string>& labels) {
  const Object numbers = file.array();
  for (std::size_t page = 0; page < labels.size(); ++page) {
    const Object label = file.dictionary();
    file.set(label, "/P", file.text(labels[page]));
    file.append(numbers, file.number(static_cast<long long>(page)));
    file.append(numbers, label);
  }
  const Object tree = file.dictionary();
  file.set(tree, "/Nums", numbers);
  return tree;
}

void cut_to_size(File& file, const std::vector<PageSize>& sizes) {
  for (std::size_t page = 0; page < sizes.size(); ++page) {
    const Object box = file.array();
    for (const double corner : {0.0, 0.0, sizes[page].width, sizes[page].height}) {
      file.append(box, file.real(corner));
    }
    file.set(file.page(page), "/MediaBox", box);
  }
}

Object outline_entry(File& file, const Bookmark& bookmark, Object parent) {
  const Object target = file.array();
  file.append(target, file.page(bookmark.page));
  file.append(target, file.name("/Fit"));
  const Object entry = file.shared(file.dictionary());
  file.set(entry, "/Title", file.text(bookmark.title));
  file.set(entry, "/Dest", target);
  file.set(entry, "/Parent", parent);
  return entry;
}

/// How many entries show below an open one: all of them.
long long count_of(const std::vector<Bookmark>& bookmarks) {
  long long count = 0;
  for (const Bookmark& bookmark : bookmarks) count += 1 + count_of(bookmark.below);
  return count;
}

/// Hangs `bookmarks` below `parent`, all open (ISO 32000-1, 12.3.3).
void hang(File& file, Object parent, const std::vector<Bookmark>& bookmarks) {
  std::vector<Object> entries;
  for (const Bookmark& bookmark : bookmarks) {
    entries.push_back(outline_entry(file, bookmark, parent));
    if (!bookmark.below.empty()) hang(file, entries.back(), bookmark.below);
  }
  for (std::size_t k = 1; k < entries.size(); ++k) {
    file.set(entries[k - 1], "/Next", entries[k]);
    file.set(entries[k], "/Prev", entries[k - 1]);
  }
  file.set(parent, "/First", entries.front());
  file.set(parent, "/Last", entries.back());
  file.set(parent, "/Count", file.number(count_of(bookmarks)));
}

void add_bookmarks(File& file, const std::vector<Bookmark>& bookmarks) {
  if (bookmarks.empty()) return;
  const Object outline = file.shared(file.dictionary());
  file.set(outline, "/Type", file.name("/Outlines"));
  hang(file, outline, bookmarks);
  file.set(file.root(), "/Outlines", outline);
  file.set(file.root(), "/PageMode", file.name("/UseOutlines"));
}

/// Gives the pictures below `element` their words, in the order in which Cairo met them.
void describe(File& file, Object element, const std::vector<std::string>& figures,
              std::size_t& next) {
  for (const Object below : file.items(file.at(element, "/K"))) {
    if (!file.is_dictionary(below)) continue;
    if (file.is_name(file.at(below, "/S"), "/Figure") && next < figures.size()) {
      file.set(below, "/Alt", file.text(figures[next++]));
    } else {
      describe(file, below, figures, next);
    }
  }
}

/// One document holds all that is read (ISO 32000-1, 14.8.4.2).
void finish_tags(File& file, const std::vector<std::string>& figures) {
  const Object tree = file.at(file.root(), "/StructTreeRoot");
  if (!file.is_dictionary(tree)) return;
  const Object marked = file.dictionary();
  file.set(marked, "/Marked", file.boolean(true));
  file.set(file.root(), "/MarkInfo", marked);
  std::size_t next = 0;
  describe(file, tree, figures, next);
  const Object document = file.shared(file.dictionary());
  file.set(document, "/Type", file.name("/StructElem"));
  file.set(document, "/S", file.name("/Document"));
  file.set(document, "/P", tree);
  const Object below = file.at(tree, "/K");
  for (const Object element : file.items(below)) file.set(element, "/P", document);
  file.set(document, "/K", below);
  file.set(tree, "/K", document);
}

}  // namespace

std::string finished_pdf(const std::string& pdf, const PdfFacts& facts) {
  File file(pdf);
  file.set(file.root(), "/ViewerPreferences", viewer_preferences(file));
  file.set(file.root(), "/Lang", file.text(facts.language));
  file.set(file.root(), "/PageLabels", page_labels(file, facts.page_labels));
  cut_to_size(file, facts.page_sizes);
  add_bookmarks(file, facts.bookmarks);
  finish_tags(file, facts.figures);
  // In place of what Cairo wrote there: its version would make files differ between machines.
  const Object info = file.dictionary();
  file.set(info, "/Title", file.text(facts.title));
  file.set(file.trailer(), "/Info", file.shared(info));
  return file.written();
}

}  // namespace pouchwright::render
