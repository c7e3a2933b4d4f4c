/// Who can do what: the helpers that a job tells of, as a line knows them.
///
///     line.people = people_of(settings, line.steps, table, diagnostics);
#pragma once

#include <string>
#include <vector>

#include "base/diagnostic.h"
#include "batch/work/plan.h"

namespace pouchwright::batch {

/// One for each helper, those that the job says nothing of at the end, as quick as the table and
/// able to do everything; empty where it says nothing of anybody. Who can do a kind of work can do
/// the steps that it decides: what is done at a machine or iron by that, what is done by hand by
/// any of its kinds; besides, whatever is done at a station that is named, and once before these.
/// Fails: errors at a word that is no kind, station or operation, at a helper who can do no step,
/// and (at the helpers) for each step that nobody can do, which `called` names by step; empty: by its
/// operation.
[[nodiscard]] std::vector<Person> people_of(const Settings& settings,
                                            const std::vector<Step>& steps, const WorkTable& table,
                                            base::Diagnostics& diagnostics,
                                            const std::vector<std::string>& called = {});

/// What somebody is told to be able to do, to do these of `steps` and of all else nothing that is done
/// to bundles: kinds of work, and operations where a kind is done in other steps as well. Empty where
/// all of them are done once.
[[nodiscard]] std::vector<std::string> words_for(const std::vector<std::size_t>& own,
                                                 const std::vector<Step>& steps);

/// Breaks as the job has them. Fails: an error where some task would not be done between two.
void take_breaks(const Settings& settings, Line& line, base::Diagnostics& diagnostics);

}  // namespace pouchwright::batch
