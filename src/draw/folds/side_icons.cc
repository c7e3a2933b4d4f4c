#include "draw/folds/side_icons.h"

#include <algorithm>
#include <utility>

#include "draw/views/on_view.h"
#include "ink/arrows.h"

namespace pouchwright::draw {
namespace {

using base::Length;
using pouch::Operation;

constexpr double kIconGap = 1.2;

/// So far inside the right edge of what lies uppermost.
Point at_right(const FoldViews& views, Length height, Length inside = Length()) {
  return views.view->on_top(views.right() - inside, height);
}

std::vector<SideIcon> icons_of(const FoldViews& views, const Operation& done) {
  const pouch::Pouch& pouch = *views.pouch;
  const Length seam = pouch.sizes.seam_allowance;
  const Length half_way = middle(views.all_heights());
  if (const auto* finish = done.as<pouch::does::Finish>()) {
    const pouch::FinishKind kind = finish_of(pouch.request, finish->end).kind;
    return {{kind == pouch::FinishKind::overedge ? Icon::overedge : Icon::needle,
             views.near_end(finish->end, finish->panel, views.right(), Length())}};
  }
  if (const auto* press = done.as<pouch::does::Press>()) {
    return {{Icon::iron,
             at_right(views, base::half(pouch.lip_height), base::half(pouch.sizes.seal_width)),
             true, press->from != pouch::PressFrom::back}};
  }
  if (const auto* hem = done.as<pouch::does::Hem>()) {
    const auto layer = lying(views.moment->folded, views.moment->folded.id(hem->span));
    if (!layer) return {};
    return {{Icon::needle,
             views.view->on_paper(layer->id, views.right() - seam, middle(layer->heights)), true}};
  }
  if (done.as<pouch::does::Sew>()) return {{Icon::needle, at_right(views, half_way, seam), true}};
  if (done.as<pouch::does::Tag>()) return {{Icon::tag, at_right(views, half_way, seam), true}};
  const Point low = at_right(views, views.all_heights().from);
  if (done.as<pouch::does::Dry>()) return {{Icon::dryer, low}};
  if (done.as<pouch::does::SecureTails>()) return {{Icon::tail, low}};
  if (done.as<pouch::does::LookInside>()) {
    return {{Icon::eye, views.view->on_top(views.centre(), pouch.lip_height), true}};
  }
  if (done.as<pouch::does::Test>() || done.as<pouch::does::FillFirst>()) {
    return {{Icon::drop, at_right(views, views.water, pouch.sizes.seal_width), true},
            {Icon::eye, low}};
  }
  return {};
}

/// The middles of the icons: each beside what it means, but no two on each other, and inside the
/// view's height.
std::vector<double> spread(const std::vector<SideIcon>& icons, const Box& view) {
  const double half = kSideIconSize / 2;
  double lowest = view.y0 - kIconGap;
  std::vector<double> middles;
  for (const SideIcon& one : icons) {
    middles.push_back(std::max(one.at.y, lowest + kIconGap + half));
    lowest = middles.back() + half;
  }
  double highest = std::max(view.y1, lowest) + kIconGap;
  for (std::size_t i = middles.size(); i-- > 0;) {
    middles[i] = std::min(middles[i], highest - kIconGap - half);
    highest = middles[i] - half;
  }
  return middles;
}

void draw_side_icon(Drawing& drawing, const FoldViews& views, const SideIcon& one, const Box& box,
                    const Icons& icons) {
  drawing.add(one.never ? forbidden(icons, one.icon, box) : icon(icons, one.icon, box));
  const double y = middle(box).y;
  if (one.has_arrow) drawing.add(arrow({box.x0 - 0.6, y}, one.at));
  if (!one.at_section || !views.section) return;
  const Length height = Length::mm((views.section->origin.y - y) / views.section->scale);
  const double right = box.x1 + 0.6;
  const double stack = views.top_of_stack(height).value_or(right) - 0.6;
  if (stack > right + 2) drawing.add(arrow({right, y}, {stack, y}));
}

}  // namespace

std::vector<SideIcon> side_icons(const FoldViews& views) {
  std::vector<SideIcon> icons;
  const auto folds = folds_of(views.pouch->sizes.main_panel());
  if (views.moment->to_be_marked && !folds.empty()) {
    const Point fold = at_right(views, folds.front().at + views.all_heights().from);
    icons = {{Icon::snip, {fold.x, fold.y - kSideIconSize}},
             {.icon = Icon::deep_snip, .at = fold, .never = true}};
  }
  for (const std::size_t index : views.moment->operations) {
    for (const SideIcon& one : icons_of(views, views.pouch->operation(index))) icons.push_back(one);
  }
  std::stable_sort(icons.begin(), icons.end(),
                   [](const SideIcon& a, const SideIcon& b) { return a.at.y < b.at.y; });
  return icons;
}

void draw_side_icons(Drawing& drawing, const FoldViews& views, const std::vector<SideIcon>& beside,
                     double left, const Box& view, const Icons& icons) {
  const std::vector<double> middles = spread(beside, view);
  const double half = kSideIconSize / 2;
  for (std::size_t i = 0; i < beside.size(); ++i) {
    const Box box{left, middles[i] - half, left + kSideIconSize, middles[i] + half};
    draw_side_icon(drawing, views, beside[i], box, icons);
  }
}

}  // namespace pouchwright::draw
