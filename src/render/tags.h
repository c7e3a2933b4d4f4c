/// The order in which a PDF is read aloud: headings, paragraphs, lists, tables, and pictures with
/// words in their place (ISO 32000-1, 14.8). What stands on a page is drawn between marks that say
/// what it is.
///
///     Tags tags(target);
///     for (const ink::Item& item : items) { tags.open_for(item); draw_item(target, item, fonts); }
///     tags.close();
///
/// Cairo makes the marks; what it cannot write, the pictures' words, is added later (see finish.h).
#pragma once

#include <string>
#include <vector>

#include "ink/scene.h"

// Cairo's own name for its drawing state; its headers stay inside this layer's .cc files.
struct _cairo;  // NOLINT(bugprone-reserved-identifier,readability-identifier-naming)

namespace pouchwright::render {

class Tags {
 public:
  /// `target` must outlive this.
  explicit Tags(_cairo& target) : target_(&target) {}

  /// Opens what `item` stands in, unless it is open, and closes what it does not. Lines and areas of
  /// no picture belong to what is open: whoever listens hears nothing of them.
  void open_for(const ink::Item& item);
  /// Opens a picture of all that comes until `close`, whatever its items are by themselves.
  void open_picture(const std::string& words);
  /// Closes all that is open. To be called at the end of each page.
  void close();

  /// What pictures show, in the order of the file.
  [[nodiscard]] const std::vector<std::string>& figures() const { return figures_; }

 private:
  void open(const char* name);
  void close_to(std::size_t depth);
  void open_words(const ink::Text& text);

  _cairo* target_;
  std::vector<const char*> open_;
  ink::FigureWords figure_;  ///< the open picture of items
  bool is_picture_ = false;  ///< one that takes all items is open
  std::vector<std::string> figures_;
};

}  // namespace pouchwright::render
