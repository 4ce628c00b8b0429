#include <map>
#include <string>

#include "mendworth/render.hpp"
#include "render/json_shape.hpp"

namespace mendworth {

namespace {

const char* spread_word(Spread spread) {
  switch (spread) {
    case Spread::fixed: return "fixed";
    case Spread::uniform: return "uniform";
    case Spread::beta: return "beta";
    case Spread::triangular: return "triangular";
  }
  return "";
}

constexpr const char* source_meaning = "publication, 'common practice, no source' or 'from memory ...'";

// The same figures under other keys.
struct Minutes : SourcedQuantity {};
struct LifeYears : SourcedQuantity {};

template <class Figure>
std::map<std::string, Figure> keyed(const std::map<std::string, SourcedQuantity>& figures) {
  std::map<std::string, Figure> out;
  for (const auto& [name, figure] : figures) out.emplace(name, Figure{figure});
  return out;
}

}  // namespace

template <>
Shape<Quantity>::Shape() : MemberTable("range") {
  has({
      {"low", [](const R& q) { return q.low(); }},
      {"likely",
       [](const R& q) { return q.spread() == Spread::uniform ? std::nullopt : std::optional(q.likely()); },
       "", left_out_if_none},
      {"high", [](const R& q) { return q.high(); }},
      {"spread", [](const R& q) { return spread_word(q.spread()); }, "",
       one_of({"uniform", "beta", "triangular"})},
  });
}

template <>
struct AsJson<Quantity> {
  static Json value(const Quantity& held, const SumStyle& sums) {
    return held.is_fixed() ? number(held.likely()) : shape<Quantity>().value(&held, sums);
  }
  static Json schema(Definitions& definitions) {
    return {{"anyOf", std::vector<Json>{of_type("number"), definitions.reference(shape<Quantity>())}}};
  }
};

template <>
Shape<Minutes>::Shape() : MemberTable("operation") {
  has({
      {"minutes", &R::value},
      {"source", &R::source, source_meaning},
  });
}

template <>
Shape<LifeYears>::Shape() : MemberTable("device_kind") {
  has({
      {"life_years", &R::value},
      {"source", &R::source, source_meaning},
  });
}

template <>
Shape<SourcedQuantity>::Shape() : MemberTable("default") {
  has({
      {"value", &R::value},
      {"source", &R::source, source_meaning},
  });
}

template <>
Shape<LifeClass>::Shape() : MemberTable("life") {
  has({
      {"unit", [](const R& l) { return l.life.unit; }},
      {"rated_life", [](const R& l) { return l.life.rated_life; }},
      {"failed_at_rated_share", [](const R& l) { return l.life.failed_at_rated; }},
      {"life_spread", [](const R& l) { return l.life.life_spread; }},
      {"shape", [](const R& l) { return l.life.shape; }},
      {"shape_spread", [](const R& l) { return l.life.shape_spread; }},
      {"source", &R::source, source_meaning},
  });
}

template <>
Shape<Termination>::Shape() : MemberTable("termination") {
  has({
      {"remove_minutes", &R::remove_minutes},
      {"clean_minutes", &R::clean_minutes},
      {"fit_minutes", &R::fit_minutes},
      {"joints", &R::joints},
      {"source", &R::source, source_meaning},
  });
}

template <>
Shape<Skill>::Shape() : MemberTable("skill") {
  has({
      {"minutes_factor", &R::minutes_factor},
      {"joint_mendable_share", &R::joint_mendable},
      {"joint_write_off_share", &R::joint_write_off},
      {"opening_mendable_share", &R::opening_mendable},
      {"opening_write_off_share", &R::opening_write_off},
      {"diagnosis_right_share", &R::diagnosis_right},
      {"source", &R::source, source_meaning},
  });
}

template <>
Shape<Hazard>::Shape() : MemberTable("hazard") {
  has({
      {"title", &R::title},
      {"licensed_only", &R::licensed_only},
      {"cautions", &R::cautions},
      {"source", &R::source, source_meaning},
  });
}

template <>
Shape<CurrencyRate>::Shape() : MemberTable("currency") {
  has({
      {"minor_digits", &R::minor_digits},
      {"source", &R::source, source_meaning},
  });
}

template <>
Shape<RateBook>::Shape() {
  has({
      {"lives", &R::lives, "classes of wear parts"},
      {"operations", [](const R& r) { return keyed<Minutes>(r.operations); },
       "hands-on minutes by operation"},
      {"terminations", &R::terminations, "how a part is attached"},
      {"skills", &R::skills, "who does the work"},
      {"device_kinds", [](const R& r) { return keyed<LifeYears>(r.device_kinds); },
       "mean life of a new device by its kind"},
      {"hazards", &R::hazards, "hazard classes"},
      {"defaults", &R::defaults, "by the key of a case"},
      {"currencies", &R::currencies, "by their ISO 4217 codes"},
  });
}

constexpr AnswerOf<RateBook> rates_form{
    {.schema = "mendworth.rates",
     .version = 2,
     .meaning =
         "What 'mendworth rates --format json' prints: the trade figures behind the defaults, by name.",
     .names_program = false,
     .closed = true}};

std::string rates_json(const RateBook& rates) { return rates_form.json(rates).text(); }

const std::string& rates_schema() { return rates_form.json_schema(); }

}  // namespace mendworth
