#pragma once

#include <fmt/format.h>

#include <string>
#include <vector>

#include "answers/labels.hpp"
#include "cli/answer_output.hpp"
#include "cli/case_input.hpp"
#include "cli/option_set.hpp"
#include "mendworth/curve.hpp"
#include "mendworth/read_case.hpp"

namespace mendworth::cli {

/// Adds --vary.
void add_vary_option(OptionSet& set, std::vector<VariedKey>& keys);

/// An empty curve of a command.
template <class Settings>
[[nodiscard]] Curve curve_of(const char* command, const char* value_name, const Settings& settings,
                             const std::vector<VariedKey>& keys) {
  Curve curve;
  curve.command = command;
  curve.value_name = value_name;
  curve.seed = settings.seed;
  curve.futures = settings.futures;
  curve.keys = keys;
  return curve;
}

/// Writes a curve of a case in place of its answer: `answer_of(case, rates)` gives the answer at a point. `curve` says of
/// which command. Throws InputError where the case cannot have a value.
template <class AnswerOf>
void write_curve(const CaseInput& input, Curve curve, const PageOptions& page, AnswerOf answer_of,
                 const Streams& streams, const Surroundings& surroundings) {
  AnswerOutput out(page, curve_sections(), {input.case_path, input.drawer_path}, surroundings);
  const CaseFiles files = files_of(input);
  const CaseRead base = case_from(input, files);
  curve.source_name = base.c.source_name;
  curve.device = base.c.device.name;
  curve.currency = base.c.device.currency;
  curve.minor_digits = base.c.device.minor_digits;
  for (VariedKey& key : curve.keys) key.label = label_of(base.c, key.key);
  trace(curve, [&](const std::vector<double>& at) {
    CaseInput changed = input;
    for (std::size_t i = 0; i < at.size(); ++i)
      changed.overrides.push_back(fmt::format("{}={}", curve.keys[i].key, at[i]));
    const CaseRead read = case_from(changed, files);
    return curve_point(answer_of(read.c, read.rates));
  });
  out.write(curve, curve_page, curve_json, streams);
}

}  // namespace mendworth::cli
