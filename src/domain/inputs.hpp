#pragma once

#include <cstddef>
#include <functional>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "domain/limits.hpp"
#include "mendworth/case.hpp"
#include "mendworth/knowing.hpp"

/// The inputs of a case and of a shop file, each once: what it is called, what it may be, where it lies, what it bears
/// on. Reading, checks, labels, --set, random draws, sensitivity, starter files and schemas follow from these tables.
namespace mendworth {

enum class InputKind {
  quantity,  ///< a number or a range
  number,
  count,  ///< a whole number
  flag,
  text,
  texts,
  choice,
  choices,
  date,
  sizes,   ///< numbers by names of the user's own
  table,   ///< of its own, with the inputs in it
  tables,  ///< a list of such
};

/// What changes with a quantity of the case.
enum class BearsOn {
  wear,      ///< how far the positions have worn: the device's own evidence speaks about it
  course,    ///< what happens
  prospect,  ///< what is weighed ahead and never drawn: interest, how long a device bought lasts
  price,     ///< what it costs that something happens
  purchase,  ///< what an order costs and how long it takes, its wait included
  other,     ///< nothing of a decision: shown, or asked about by other commands
};

/// Whether it bears on unit costs only, not on the course of things.
[[nodiscard]] constexpr bool bears_on_price(BearsOn on) noexcept {
  return on == BearsOn::price || on == BearsOn::purchase;
}

/// Where a value lies; nothing for what the reader works into something else.
using Slot = std::variant<std::monostate, Quantity*, std::optional<Quantity>*, double*,
                          std::optional<double>*, int*, std::optional<int>*, bool*, std::string*,
                          std::optional<std::string>*, std::vector<std::string>*, std::optional<Date>*>;

struct Input {
  std::string_view key{};  ///< in its table: "age_years"
  InputKind kind = InputKind::table;
  Limits limits{};  ///< of a number, and of how many a list of tables may hold
  BearsOn bears_on = BearsOn::other;
  FoundOut found_out = FoundOut::nobody;
  std::string_view words{};                   ///< "{}" takes the name of the thing
  std::string_view unit{};                    ///< "$": the case's currency, "@": the seller's
  std::string_view help{};                    ///< a line for who writes the file
  std::string_view missing{}, remedy{};       ///< said where it is left out and may not be
  std::string_view only_known_by{};           ///< "only its owner knows"; empty: others may know it
  std::string_view word{};                    ///< may stand in place of the number
  std::string_view rates{};                   ///< the name of its default in the rates
  std::optional<double> otherwise{};          ///< its value where it is left out
  std::span<const std::string_view> names{};  ///< to choose from
  bool starred = false;                       ///< must be there, as a rule
  bool by_hand = false;                       ///< hangs on other inputs: read by code of its own
  bool open = false;                          ///< of a table: it holds keys of the user's own too
  bool tried = false;  ///< a job's margin is tried with it even if it is stated as certain
  Slot (*slot)(void* owner) = nullptr;
  std::span<const Input> within{};                    ///< of a table
  std::size_t (*count)(const void* owner) = nullptr;  ///< how many there are of the table
  void* (*item)(void* owner, std::size_t at) = nullptr;
};

[[nodiscard]] std::span<const Input> case_inputs();
[[nodiscard]] std::span<const Input> shop_inputs();

/// The input of a key of that table, with or without the numbers of lists: "part.1.candidate.2.fit" or
/// "part.candidate.fit". Null if there is none.
[[nodiscard]] const Input* find_input(std::span<const Input> table, std::string_view key);
/// The input of a case. Throws std::invalid_argument for a key that is none.
[[nodiscard]] const Input& input_of(std::string_view key);
/// The key without the numbers of lists.
[[nodiscard]] std::string without_numbers(std::string_view key);

/// A quantity in its slot; null if it is absent or none.
[[nodiscard]] Quantity* quantity_in(const Slot& slot);

/// What for_each_quantity visits, each with its input.
void for_each_input(const Case& c,
                    const std::function<void(const std::string& key, const Input&, const Quantity&)>& visit);
/// The same in the same order, without the keys, whose writing takes most of the time.
[[nodiscard]] std::vector<Quantity*> quantities_of(Case& c);
[[nodiscard]] std::vector<const Quantity*> quantities_of(const Case& c);
/// The one of a key with the numbers of lists; null if there is none.
[[nodiscard]] Quantity* find_quantity(Case& c, std::string_view key);
[[nodiscard]] const Quantity* find_quantity(const Case& c, std::string_view key);

/// Whether a quantity of the case has no bearing on it, other inputs being as they are: the exchange rate of who sells in
/// the case's currency, a claim without a guarantee, a spill that was none, the age of renewed ones where there are none.
[[nodiscard]] bool is_idle(const Case& c, const Quantity& quantity);

/// Visits every input that has a slot, and every list of tables before what it holds (its slot holds nothing), in the
/// order of the table.
void walk_inputs(std::span<const Input> table, void* owner,
                 const std::function<void(const std::string& key, const Input&, void* owner)>& visit);

/// What each default that the inputs ask the rates for may be, by its name in the rates.
[[nodiscard]] std::map<std::string, Limits> defaults_of_inputs();

}  // namespace mendworth
