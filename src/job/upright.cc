#include "job/upright.h"

#include <string>
#include <vector>

#include "base/text.h"
#include "job/run.h"
#include "pouch/judge/upright.h"

namespace pouchwright::job {
namespace {

/// Those of patterns/ whose walls all stand upright, as they are folded with their own sizes.
std::vector<std::string> upright_constructions(const Data& data) {
  std::vector<std::string> names;
  for (const std::string& name : data.constructions()) {
    JobOptions options;
    options.command = Command::check;
    options.job_file = name + ".toml";
    options.job_text = "construction = \"" + name + "\"\n";
    Run inner(options, data);
    if (inner.read_job() && pouch::takes_upright_print(inner.pouch())) names.push_back(name);
  }
  return names;
}

std::string names_of(const pouch::Pouch& pouch, const std::vector<pouch::SpanId>& spans) {
  return base::list_text(spans, ", ",
                         [&](pouch::SpanId span) { return pouch.sizes.span(span).name; });
}

}  // namespace

void tell_upright(const pouch::Pouch& pouch, const Data& data, base::Diagnostics& diagnostics) {
  if (!pouch::has_upright_print(pouch.request) || pouch::takes_upright_print(pouch)) return;
  const pouch::Material& cloth =
      pouch.request.outer ? *pouch.request.outer : pouch.request.laminate;
  const std::vector<std::string> others = upright_constructions(data);
  const base::Message hint =
      others.empty() ? base::Message("upright-none-hint")
                     : base::Message("upright-others-hint", {{"names", base::list_text(others)}});
  for (const pouch::Standing& one : pouch::standing_of(pouch)) {
    if (!one.walls_differ) continue;
    diagnostics.warning(cloth.place,
                        {"upright-walls-differ",
                         {{"cloth", cloth.name},
                          {"upright", names_of(pouch, one.upright)},
                          {"on_head", names_of(pouch, one.on_head)}}},
                        {hint});
  }
}

}  // namespace pouchwright::job
