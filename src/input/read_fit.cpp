#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "input/case_reader.hpp"
#include "input/suggest.hpp"
#include "input/utf8.hpp"

// What is measured of a part and catalogued of its candidates, from which the chance of fit is derived.

namespace mendworth::input {

namespace {

/// One of the two will do; so will a misspelt one, which is reported as such.
bool states_window(TableReader& table) {
  if (table.has("below") || table.has("above")) return true;
  return std::ranges::any_of(table.entries(), [](const Entry& entry) {
    return nearest(entry.key, {"below", "above"}).has_value();
  });
}

Dimension read_dimension(TableReader& table) {
  Dimension dimension;
  const std::size_t problems_before = table.problems().count();
  table.read_into(&dimension);
  if (!states_window(table)) {
    table.missing("below", "how much smaller, or with 'above' how much larger, a piece may be, in mm",
                  "for instance below = 0.1 and above = 0.2");
  }
  const bool read = table.problems().count() == problems_before;
  if (read && table.has("measured") && dimension.limit >= dimension.measured) {
    table.fail("limit",
               fmt::format("the measurement may be wrong by {} mm, as much as all of the {} mm measured",
                           dimension.limit, dimension.measured),
               input_of("part.dimension.limit").limits.hint);
  }
  if (read && (table.has("below") || table.has("above")) && dimension.below + dimension.above <= 0) {
    table.fail(table.has("below") ? "below" : "above",
               "a piece may be neither smaller nor larger: then none ever fits",
               "state how much play the place leaves, in mm");
  }
  table.finish();
  return dimension;
}

std::vector<std::string> names_of_dimensions(const Part& part) {
  std::vector<std::string> names;
  for (const Dimension& dimension : part.dimensions) {
    if (!dimension.name.empty()) names.push_back(dimension.name);
  }
  return names;
}

}  // namespace

void CaseReader::read_dimensions(TableReader& table, Part& part) {
  std::vector<TableReader> tables = table.sections("dimension");
  if (tables.size() > most_dimensions) {
    table.fail("dimension",
               fmt::format("found {} of them, at most {} are allowed", tables.size(), most_dimensions),
               "keep those that can decide whether a piece fits");
  }
  UniqueNames names;
  for (TableReader& dimension : tables) {
    part.dimensions.push_back(read_dimension(dimension));
    names.add(dimension, part.dimensions.back().name);
  }
}

/// The catalogued sizes of a candidate, by dimension.
std::vector<std::optional<double>> CaseReader::read_nominal(TableReader& table, const Part& part) {
  std::vector<std::optional<double>> nominal(part.dimensions.size());
  if (!table.has("nominal")) return nominal;
  if (part.dimensions.empty()) {
    table.fail("nominal", fmt::format("no dimension of the part '{}' is measured", part.name),
               "add a [[part.dimension]] of that name, or leave it out");
    return nominal;
  }
  const Node* node = table.find("nominal");
  if (!node->is_table()) {
    table.fail(
        "nominal", fmt::format("found {}, a size for each dimension by name is wanted", node->described()),
        fmt::format("for instance nominal = {{ \"{}\" = 4.3 }}", printable(part.dimensions.front().name)));
    return nominal;
  }
  TableReader sizes(*node, table.key_of("nominal"), table.problems());
  const std::vector<std::string> known = names_of_dimensions(part);
  for (const Entry& entry : node->entries) {
    const auto is_it = [&](const Dimension& dimension) { return dimension.name == entry.key; };
    const auto found = std::ranges::find_if(part.dimensions, is_it);
    if (found == part.dimensions.end()) {
      table.problems().add(entry.key_place, table.key_of("nominal"),
                           fmt::format("there is no [[part.dimension]] named '{}'", printable(entry.key)),
                           suggestion(entry.key, known));
      continue;
    }
    nominal[static_cast<std::size_t>(found - part.dimensions.begin())] =
        sizes.number(entry.key, input_of("part.nominal").limits);
  }
  return nominal;
}

/// The stated chance. Where a dimension tells, all else is taken to fit unless the case says otherwise; where none
/// does, there is a default.
Quantity CaseReader::read_fit_chance(TableReader& table, const std::string& key, const Candidate& candidate) {
  if (table.has("fit")) return table.quantity("fit").value_or(Quantity{});
  const bool measured =
      std::ranges::any_of(candidate.nominal, [](const auto& size) { return size.has_value(); });
  if (measured) return Quantity::exactly(1.0);
  return take_default(key + ".fit", table.place());
}

/// A measurement that nothing is compared with would change nothing without a word.
void CaseReader::check_dimensions_used(TableReader& table, const Part& part) {
  for (std::size_t d = 0; d < part.dimensions.size(); ++d) {
    const bool used = std::ranges::any_of(
        part.candidates, [d](const Candidate& candidate) { return candidate.nominal[d].has_value(); });
    if (used) continue;
    const std::string name = printable(part.dimensions[d].name);
    table.problems().add(table.find("dimension")->items[d].place,
                         fmt::format("{}.{}", table.key_of("dimension"), d + 1),
                         fmt::format("nothing is compared with '{}': no candidate states its size", name),
                         fmt::format("add nominal = {{ \"{}\" = ... }} to a candidate", name));
  }
}

}  // namespace mendworth::input
