#pragma once

#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "domain/inputs.hpp"
#include "input/document.hpp"
#include "input/problems.hpp"

namespace mendworth::input {

/// The remedy for a number in quotes, with or without a unit; empty for any other text.
[[nodiscard]] std::string quoted_number_remedy(const std::string& text);

/// Reads one table: its inputs are known keys, and every question makes its key one; finish() reports the others.
/// What is wrong goes to Problems, and reading goes on.
class TableReader {
 public:
  /// `path` is the dotted key of the table, empty for the whole document; `inputs` what it may hold, with which a
  /// question needs no limits. The table must outlive the reader.
  TableReader(const Node& table, std::string path, Problems& problems, std::span<const Input> inputs = {});

  /// Gives the value of an input that is left out and has a default in the rates.
  using TakeDefault = std::function<Quantity(const std::string& key)>;
  /// Reads each input that has a place in `owner` and hangs on no other. What may not be left out is reported; a value
  /// that was reported is 1, or what it is where it is left out.
  void read_into(void* owner, const TakeDefault& take_default = {});

  [[nodiscard]] const std::string& path() const noexcept { return path_; }
  [[nodiscard]] const Node& node() const noexcept { return *table_; }
  [[nodiscard]] Place place() const noexcept { return table_->place; }
  [[nodiscard]] std::string key_of(std::string_view key) const;
  [[nodiscard]] bool has(std::string_view key) { return find(key) != nullptr; }
  /// Whether it is not there, or is a list that holds nothing.
  [[nodiscard]] bool lacks(std::string_view key);
  [[nodiscard]] const Node* find(std::string_view key);
  [[nodiscard]] const std::vector<Entry>& entries() const noexcept { return table_->entries; }

  // Each of these is empty if the key is not there, or if its value is wrong, which is then reported.
  [[nodiscard]] std::optional<Quantity> quantity(std::string_view key, const Limits& limits);
  [[nodiscard]] std::optional<Quantity> quantity(std::string_view key) {
    return quantity(key, input(key).limits);
  }
  [[nodiscard]] std::optional<double> number(std::string_view key, const Limits& limits);
  [[nodiscard]] std::optional<double> number(std::string_view key) { return number(key, input(key).limits); }
  [[nodiscard]] std::optional<int> integer(std::string_view key, int low, int high);
  [[nodiscard]] std::optional<int> integer(std::string_view key);
  /// Not empty, no control characters.
  [[nodiscard]] std::optional<std::string> text(std::string_view key);
  [[nodiscard]] std::optional<bool> flag(std::string_view key);
  [[nodiscard]] std::optional<Date> date(std::string_view key);
  [[nodiscard]] std::vector<std::string> texts(std::string_view key);
  /// A list of texts for a page: each as text() wants it.
  [[nodiscard]] std::vector<std::string> lines(std::string_view key);
  /// A text that is one of `allowed`; its index.
  [[nodiscard]] std::optional<std::size_t> choice(std::string_view key,
                                                  const std::vector<std::string>& allowed);
  [[nodiscard]] std::optional<std::size_t> choice(std::string_view key);

  /// The same for keys that must be there: absence is reported as "missing: <what>" with the remedy.
  [[nodiscard]] Quantity required_quantity(std::string_view key);
  [[nodiscard]] std::string required_text(std::string_view key, const std::string& what,
                                          const std::string& remedy);
  /// Reports an input that is not there.
  void require(std::string_view key);

  /// A sub-table; an empty one if it is not there. Wrong types are reported. A misspelt name is read all the same
  /// (and reported by finish()), so that what it holds does not seem to be missing.
  [[nodiscard]] TableReader section(std::string_view key);
  /// An array of tables, keys "<key>.1", "<key>.2" ...; empty if it is not there.
  [[nodiscard]] std::vector<TableReader> sections(std::string_view key);

  /// Reports a problem at the key's value, or at the table if the key is not there.
  void fail(std::string_view key, std::string message, std::string remedy = "");
  /// Reports that a key must be there; not if a misspelt one stands in its place, which finish() reports.
  void missing(std::string_view key, const std::string& what, std::string remedy);
  /// Reports every key that nobody asked for.
  void finish();

  [[nodiscard]] Problems& problems() const noexcept { return *problems_; }

 private:
  struct Missing {
    std::string key, what, remedy;
    std::string misspelt;  ///< the key that seems to be meant
  };
  /// Of a list of texts; none if it is not there, or if it is no list, which is then reported.
  [[nodiscard]] const std::vector<Node>& items(std::string_view key);
  /// What text() wants of a text; reports what is wrong.
  [[nodiscard]] bool check_text(const Node& node, std::string_view key);
  /// What stands at a key, or at one that looks like it, which `written` then becomes; null if nothing does.
  [[nodiscard]] const Node* find_nearly(std::string_view key, std::string& written);
  /// The entry that nobody knows and that looks like a misspelt `key`; null if there is none.
  [[nodiscard]] const Entry* misspelt(std::string_view key) const;
  [[nodiscard]] bool is_known(std::string_view key) const;
  /// What the table says of a key, which must be one of its inputs.
  [[nodiscard]] const Input& input(std::string_view key) const;
  [[nodiscard]] std::span<const Input> within(std::string_view key) const;
  void read_input(const Input& input, const Slot& slot, const TakeDefault& take_default);
  [[nodiscard]] bool is_word(const Input& input);
  /// What to write for a key that people try; empty if there is nothing of the kind.
  [[nodiscard]] std::string meant_instead(std::string_view key) const;

  const Node* table_;
  std::string path_;
  Problems* problems_;
  std::span<const Input> inputs_;
  std::vector<std::string> known_;
  std::vector<Missing> put_off_;
};

/// Steps that each hold from a number on, in words.
struct Ladder {
  const char* first;    ///< "the first band"
  const char* all;      ///< "the bands"
  const char* of_what;  ///< "cost"
  const char* add;      ///< what to do where the first one does not start from 0
};

/// The number from which a step holds: required, 0 in the first one, rising. `last` is that of the step before.
[[nodiscard]] double read_step(TableReader& row, const char* key, const Ladder& ladder, bool is_first,
                               std::optional<double>& last);

/// A number or a range {low, high} or {low, likely, high}, checked against the limits. Empty if it was reported.
[[nodiscard]] std::optional<Quantity> read_quantity(const Node& node, const std::string& key,
                                                    const Limits& limits, Problems& problems);

}  // namespace mendworth::input
