#pragma once

#include <optional>
#include <string>
#include <vector>

#include "mendworth/beside.hpp"
#include "mendworth/weigh.hpp"
#include "render/json_shape.hpp"

/// What the tables of several answers share.
namespace mendworth {

/// Absent where there is nothing to say.
[[nodiscard]] inline std::optional<std::string> if_said(const std::string& text) {
  return text.empty() ? std::nullopt : std::optional(text);
}

/// How a verdict and its confidence are named in data.
[[nodiscard]] const char* name_of(VerdictKind kind);
[[nodiscard]] const char* name_of(Confidence confidence);

/// A document that stands in another one.
struct WholeAnswer {
  Json json;
};
template <>
struct AsJson<WholeAnswer> {
  static Json value(const WholeAnswer& held, const SumStyle& /*sums*/) { return held.json; }
  static Json schema(Definitions& /*definitions*/) { return of_type("object"); }
};

template <>
Shape<Change>::Shape();
template <>
Shape<Beside<WholeAnswer>>::Shape();

template <>
Shape<OrderLine>::Shape();
template <>
Shape<OrderAnswer>::Shape();
template <>
Shape<PartEvidence>::Shape();
template <>
Shape<SurvivorRow>::Shape();
template <>
Shape<MateSurvival>::Shape();
template <>
Shape<Knowing>::Shape();
template <>
Shape<SavingGrid>::Shape();
template <>
Shape<Weighing::Caution>::Shape();

/// The answer, and each of those beside it as it would be alone.
template <class Answer>
[[nodiscard]] std::string compared(const AnswerOf<Answer>& form, const Compared<Answer>& all) {
  Json out = form.json(all.answer);
  std::vector<Beside<WholeAnswer>> others;
  for (const auto& other : all.beside)
    others.push_back({other.name, other.changes, {form.json(other.answer)}});
  if (!others.empty()) out.add("beside", AsJson<std::vector<Beside<WholeAnswer>>>::value(others, {}));
  return out.text();
}

}  // namespace mendworth
