#include <cstdint>
#include <string>

#include "mendworth/curve.hpp"
#include "mendworth/render.hpp"
#include "render/json_shape.hpp"

namespace mendworth {

namespace {

struct CurveSettings {
  std::uint64_t seed = 0;
  int futures = 0;
};

/// A value of a varied number as a file would have it: a whole one without a point, which a count may not have.
struct Varied {
  double value = 0;
};

}  // namespace

template <>
struct AsJson<Varied> {
  static Json value(const Varied& held, const SumStyle& /*sums*/) { return whole_or_not(held.value); }
  static Json schema(Definitions& /*definitions*/) { return of_type("number"); }
};

template <>
Shape<VariedKey>::Shape() : MemberTable("key") {
  has({
      {"key", &R::key},
      {"label", &R::label, "in words, with the unit"},
      {"from", [](const R& key) { return Varied{key.from}; }},
      {"to", [](const R& key) { return Varied{key.to}; }},
      {"steps", &R::steps, "", at_least(1)},
  });
}

template <>
Shape<CurveLine>::Shape() : MemberTable("line") {
  has({
      {"candidate", &R::candidate},
      {"supplier", &R::supplier},
      {"quantity", &R::quantity},
      {"each_price", &R::each, "supplier's currency"},
  });
}

template <>
Shape<CurvePoint>::Shape() : MemberTable("point") {
  has({
      {"at",
       [](const R& point) {
         std::vector<Varied> at;
         for (const double value : point.at) at.push_back({value});
         return at;
       },
       "one for each key"},
      {"course", &R::course, "what is best"},
      {"value", &R::value},
      {"value_error", &R::error, "one standard error; 0 where none is known"},
      {"money_now", &R::money_now},
      {"pieces", &R::pieces, "that the best order has"},
      {"shipping", &R::shipping, "of that order"},
      {"order", &R::lines},
  });
}

template <>
Shape<CurveBreak>::Shape() : MemberTable("break") {
  has({
      {"low", [](const R& change) { return Varied{change.low}; }},
      {"high", [](const R& change) { return Varied{change.high}; }},
      {"what", &R::what},
  });
}

template <>
Shape<CurveSettings>::Shape() : MemberTable("settings") {
  has({
      {"seed", &R::seed},
      {"futures", &R::futures, "of each point; 0: as many as it takes"},
  });
}

template <>
Shape<Curve>::Shape() {
  has({
      {"command", &R::command, "", one_of({"weigh", "buy", "bulk"})},
      {"source_name", &R::source_name, "the case file"},
      {"device", &R::device, "name"},
      {"currency", &R::currency, "ISO 4217 code of all money but each_price"},
      {"minor_digits", &R::minor_digits},
      {"settings",
       [](const R& curve) {
         return CurveSettings{curve.seed, curve.futures};
       }},
      {"value_name", &R::value_name, "what value is: saving, net cost or expected cost"},
      {"keys", &R::keys, "one or two"},
      {"points", &R::points, "the last key varies fastest"},
      {"breaks", &R::breaks, "of one key alone: where the course or the order changes"},
  });
}

constexpr AnswerOf<Curve> curve_form{
    {.schema = "mendworth.curve",
     .version = 1,
     .meaning = "What 'weigh', 'buy' and 'bulk' say with --vary and --format json. Numbers "
                "are not rounded and always finite."}};

std::string curve_json(const Curve& curve) { return curve_form.json(curve).text(); }

const std::string& curve_schema() { return curve_form.json_schema(); }

}  // namespace mendworth
