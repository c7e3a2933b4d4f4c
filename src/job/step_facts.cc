#include "job/step_facts.h"

#include "batch/thread.h"
#include "input/work.h"
#include "pouch/questions.h"

namespace pouchwright::job {

namespace {

constexpr const char* kWorkFile = "shared/work.toml";

}  // namespace

std::optional<batch::WorkTable> work_table(const Run& run) {
  auto table = run.settings().work;
  if (!table) {
    base::Diagnostics faults;
    table = input::read_work(run.data().file(kWorkFile), faults);
    Data::refuse(faults);
  }
  if (const auto& bundle = run.settings().batch.bundle) table->bundle = bundle->value;
  return table;
}

double test_minutes(const Run& run) {
  const auto table = work_table(run);
  const batch::WorkKind* test =
      table ? table->kind(word_of(pouch::kActionWords, pouch::Action::test)) : nullptr;
  return test != nullptr && test->waits > 0 ? test->waits : pouch::kTestMinutes;
}

namespace {

/// What the table of work says besides minutes.
void add_of_work(const Run& run, tell::StepFacts& facts) {
  const auto table = work_table(run);
  if (!table) return;
  const batch::WorkKind* sews = table->kind(word_of(pouch::kActionWords, pouch::Action::sew));
  if (sews != nullptr && sews->stitch > base::Length()) facts.stitch_length = sews->stitch;
  const batch::WorkKind* fills =
      table->kind(word_of(pouch::kActionWords, pouch::Action::fill_first));
  if (fills != nullptr) facts.dry_minutes = fills->waits;
  const batch::WorkKind* warms = table->kind(word_of(pouch::kActionWords, pouch::Action::dry));
  if (warms != nullptr) facts.warm_minutes = warms->waits;
}

}  // namespace

Sewing sewing_of(const Run& run) {
  Sewing sewing{run.data().supplies().thread, {}};
  batch::use(run.settings().batch.stitches, sewing.rules);
  sewing.seams = batch::seams_of(run.pouch(), sewing.rules);
  return sewing;
}

tell::StepFacts step_facts(const Run& run, const Sewing& sewing) {
  tell::StepFacts facts{.iron = run.settings().iron,
                        .stitches = {},
                        .chain = sewing.rules.chain,
                        .test_minutes = test_minutes(run)};
  add_of_work(run, facts);
  facts.every_presser = run.settings().batch.first_pouch == batch::FirstPouch::each_presser;
  for (const batch::Seam& seam : sewing.seams) {
    const batch::Stitch* stitch = sewing.rules.stitch(seam.stitch);
    if (stitch != nullptr) facts.stitches.emplace(seam.operation, *stitch);
  }
  for (const pouch::SewingPass& pass : run.pouch().request.passes) {
    const batch::Stitch* stitch = sewing.rules.stitch(sewing.rules.code_of(pass.stitch.value));
    if (stitch != nullptr) facts.passes.push_back(*stitch);
  }
  return facts;
}

}  // namespace pouchwright::job
