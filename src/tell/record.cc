#include "tell/record.h"

#include <algorithm>
#include <utility>

namespace pouchwright::tell {

using base::Message;
using base::Value;
using batch::JoinedLeaks;
using batch::RecordFindings;

namespace {

std::string where_of(const batch::BundleName& name) {
  return name.date + (name.date.empty() || name.make.empty() ? "" : ", ") + name.make;
}

void add_outside(std::vector<Message>& all, const char* key, Value::List outside) {
  if (!outside.empty()) all.push_back({key, {{"names", std::move(outside)}}});
}

Value::List outside_of(const std::vector<JoinedLeaks>& joined,
                       Message (*called)(const JoinedLeaks&)) {
  Value::List all;
  for (const JoinedLeaks& one : joined) {
    if (one.outside_limits) all.emplace_back(called(one));
  }
  return all;
}

Message day_called(const JoinedLeaks& day) {
  if (day.first.date.empty()) return "record-no-day";
  return {"record-day", {{"day", day.first.date}}};
}

Message suspect_said(const batch::Suspect& suspect, const OperationNames& names) {
  return {"record-suspect",
          {{"helper", suspect.of.helper},
           {"operation", called(suspect.of.operation, names)},
           {"leaked", suspect.of.of.leaked},
           {"tested", suspect.of.of.tested}}};
}

}  // namespace

base::Number percent_of(double share) { return base::fixed(100 * share, share < 0.1 ? 1 : 0); }

Message bundle_called(const batch::BundleName& name) {
  if (name.date.empty() && name.make.empty()) return {"record-bundle", {{"bundle", name.bundle}}};
  return {"record-bundle-of", {{"bundle", name.bundle}, {"where", where_of(name)}}};
}

Message bundles_called(const JoinedLeaks& joined) {
  if (joined.first == joined.last) return bundle_called(joined.first);
  if (joined.first.date == joined.last.date && joined.first.make == joined.last.make) {
    const std::string where = where_of(joined.first);
    return {where.empty() ? "record-bundles-plain" : "record-bundles-of",
            {{"first", joined.first.bundle}, {"last", joined.last.bundle}, {"where", where}}};
  }
  return {"record-bundles",
          {{"first", bundle_called(joined.first)}, {"last", bundle_called(joined.last)}}};
}

std::string called(const std::string& operation, const OperationNames& names) {
  const auto found = names.find(operation);
  return found == names.end() ? operation : found->second;
}

Message setting_called(const batch::TrialSetting& setting) {
  return {setting.steam ? "record-setting-steam" : "record-setting",
          {{"dots", setting.dots}, {"seconds", base::shortened(setting.seconds, 1)}}};
}

std::vector<Message> record_leaks(const RecordFindings& found) {
  if (found.total.tested == 0) return {{"record-nothing-tested"}};
  std::vector<Message> all{{"record-leaks",
                            {{"leaked", found.total.leaked},
                             {"tested", found.total.tested},
                             {"percent", percent_of(found.total.share())},
                             {"low", percent_of(found.share.low)},
                             {"high", percent_of(found.share.high)}}}};
  if (found.total.tested < batch::kFewTested) {
    all.push_back({"record-few", {{"tested", found.total.tested}, {"few", batch::kFewTested}}});
  }
  for (const batch::Retest& one : found.retests) {
    all.push_back({"record-retest",
                   {{"bundle", bundle_called(one.name)},
                    {"leaked", one.of.leaked},
                    {"tested", one.of.tested}}});
  }
  return all;
}

std::vector<Message> record_places(const RecordFindings& found) {
  std::vector<Message> all;
  const int leaks = found.total.leaked;
  if (leaks == 0 || found.by_place.empty()) return all;
  const batch::PlaceLeaks& first = found.by_place.front();
  if (first.leaks == leaks) {
    all.push_back({leaks == 1 ? "record-place-one" : "record-place-all",
                   {{"leaks", leaks}, {"place", first.place}}});
  } else {
    // Of places that leak as often none is the first.
    const bool is_alone = found.by_place.size() < 2 || found.by_place[1].leaks < first.leaks;
    if (is_alone) {
      all.push_back(
          {"record-place-most", {{"leaks", first.leaks}, {"all", leaks}, {"place", first.place}}});
    }
  }
  if (found.leaks_without_place > 0) {
    all.push_back({"record-place-unknown", {{"leaks", found.leaks_without_place}}});
  }
  return all;
}

std::vector<Message> record_limits(const RecordFindings& found) {
  std::vector<Message> all;
  if (found.total.tested < batch::kFewTested) return all;
  Value::List bundles;
  for (const batch::BundleLeaks& one : found.by_bundle) {
    if (one.outside_limits) bundles.emplace_back(bundle_called(one.name));
  }
  add_outside(all, "record-outside-bundles", std::move(bundles));
  add_outside(all, "record-outside-rows", outside_of(found.rows, bundles_called));
  add_outside(all, "record-outside-days", outside_of(found.by_day, day_called));
  if (all.empty()) all.emplace_back("record-inside");
  return all;
}

std::vector<Message> record_people(const RecordFindings& found, const OperationNames& names) {
  std::vector<Message> all;
  for (const batch::Suspect& one : found.suspects) {
    const bool again =
        !all.empty() && &one != &found.suspects.front() && (&one)[-1].group == one.group;
    all.push_back(
        again ? Message{"record-suspect-same",
                        {{"helper", one.of.helper}, {"operation", called(one.of.operation, names)}}}
              : suspect_said(one, names));
  }
  if (found.compared == 0) return all;
  if (found.suspects.empty()) all.emplace_back("record-nobody");
  if (found.would_show) {
    all.push_back({"record-would-show", {{"percent", percent_of(*found.would_show)}}});
  }
  if (found.unseen_pairs > 0) {
    all.push_back({found.would_show ? "record-unseen-some" : "record-unseen",
                   {{"count", found.unseen_pairs}}});
  }
  return all;
}

std::vector<Message> record_cannot_tell(const RecordFindings& found, const OperationNames& names) {
  std::vector<Message> all;
  for (const batch::CannotTell& one : found.cannot_tell) {
    const Message::Values values{{"helper", one.helper},
                                 {"operation", called(one.operation, names)},
                                 {"other", one.other},
                                 {"work", called(one.other_operation, names)}};
    all.push_back({one.other.empty() ? "record-alone" : "record-alone-swap", values});
  }
  return all;
}

std::vector<Message> record_iron(const RecordFindings& found) {
  if (found.trials.empty()) return {};
  if (!found.setting) return {{"record-no-setting"}};
  return {{"record-held", {{"setting", setting_called(*found.setting)}}}};
}

std::vector<Message> record_seals(const RecordFindings& found) {
  if (!found.clear_seals) return {};
  const batch::ClearSeals& seals = *found.clear_seals;
  const auto mm = [](double value) { return base::Length::mm(value); };
  std::vector<Message> all{{seals.measured == 1 ? "record-seal" : "record-seals",
                            {{"count", seals.measured},
                             {"least", base::at_most(seals.least)},
                             {"mean", mm(seals.mean_mm)},
                             {"wanted", base::exact(seals.least_wanted)}}}};
  if (seals.below > 0) all.push_back({"record-seals-below", {{"count", seals.below}}});
  if (!seals.capability) {
    all.push_back({"record-seals-few", {{"few", batch::kFewMeasured}}});
  } else {
    // 1.33: the usual aim (NIST/SEMATECH e-Handbook 6.1.6, from memory).
    constexpr double kCapable = 1.33;
    const char* key = *seals.capability >= kCapable ? "record-seals-capable"
                      : *seals.capability >= 1      ? "record-seals-close"
                                                    : "record-seals-not";
    all.push_back(
        {key,
         {{"capability", base::fixed(*seals.capability, 2)}, {"spread", mm(seals.spread_mm)}}});
  }
  return all;
}

}  // namespace pouchwright::tell
