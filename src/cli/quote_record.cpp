#include "cli/quote_record.hpp"

#include <cstdint>
#include <filesystem>
#include <ostream>
#include <utility>

#include "cli/exit_code.hpp"
#include "input/day_text.hpp"
#include "mendworth/diagnostic.hpp"
#include "mendworth/drawer.hpp"
#include "mendworth/read_case.hpp"
#include "mendworth/shop.hpp"
#include "render/json_command.hpp"
#include "render/layout.hpp"

namespace mendworth::cli {

namespace {

struct NamedFormat {
  PageFormat format;
  const char* name;    ///< of --format
  const char* ending;  ///< of a file
};
constexpr NamedFormat formats[] = {{PageFormat::text, "text", "txt"},
                                   {PageFormat::markdown, "markdown", "md"},
                                   {PageFormat::html, "html", "html"},
                                   {PageFormat::json, "json", "json"}};

std::string customer_page(const CustomerPage& page, PageFormat format, const PageStyle& style) {
  switch (format) {
    case PageFormat::text: return customer_text(page, style);
    case PageFormat::markdown: return customer_markdown(page);
    case PageFormat::html: return customer_html(page);
    case PageFormat::json: return customer_json(page);
  }
  return "";
}

std::string shop_page(const ShopPage& page, PageFormat format, const PageStyle& style) {
  switch (format) {
    case PageFormat::text: return shop_text(page, style);
    case PageFormat::markdown: return shop_markdown(page);
    case PageFormat::html: return shop_html(page);
    case PageFormat::json: return shop_json(page);
  }
  return "";
}

const char* word_for(CustomerChoice::Kind kind) {
  switch (kind) {
    case CustomerChoice::Kind::failed_only: return "failed-only";
    case CustomerChoice::Kind::with_mates: return "with-mates";
    case CustomerChoice::Kind::every_original: return "every-original";
  }
  return "";
}

const char* word_for(PageFormat format) {
  for (const NamedFormat& known : formats) {
    if (known.format == format) return known.name;
  }
  return "";
}

const char* word_for(ColorChoice color) {
  switch (color) {
    case ColorChoice::automatic: return "auto";
    case ColorChoice::always: return "always";
    case ColorChoice::never: return "never";
  }
  return "";
}

template <class T>
CommandValue given(const std::optional<T>& value) {
  return value ? CommandValue(*value) : CommandValue();
}

CommandValue whole(int value) { return static_cast<std::uint64_t>(value); }
CommandValue word(const char* value) { return std::string(value); }

/// Every option, given or not. What the record itself decides (number, date) stands as it was decided.
std::string command_record(const QuoteOptions& options, const QuoteSettings& settings) {
  return command_json("quote",
                      {{"case", options.case_path},
                       {"shop", given(options.shop_path)},
                       {"page", word(options.page == QuoteOptions::Page::shop ? "shop" : "customer")},
                       {"format", word(word_for(options.format))},
                       {"out", given(options.out_path)},
                       {"record", given(options.record_directory)},
                       {"number", given(settings.number)},
                       {"date", input::day_text(settings.date)},
                       {"choice", settings.choice ? word(word_for(*settings.choice)) : CommandValue()},
                       {"ceiling", given(settings.ceiling)},
                       {"rush", settings.rush},
                       {"collection", settings.collection},
                       {"parts_from_customer", settings.parts_from_customer},
                       {"declined", options.declined},
                       {"minutes_spent", given(options.minutes_spent)},
                       {"despite_owner_loss", settings.despite_owner_loss},
                       {"set", options.overrides},
                       {"rates", given(options.rates_directory)},
                       {"drawer", given(options.drawer_path)},
                       {"seed", settings.seed},
                       {"futures", whole(settings.futures)},
                       {"threads", whole(settings.threads)},
                       {"color", word(word_for(options.color))}});
}

}  // namespace

std::optional<CustomerChoice::Kind> choice_of(const std::string& word) {
  using Kind = CustomerChoice::Kind;
  for (const Kind kind : {Kind::failed_only, Kind::with_mates, Kind::every_original}) {
    if (word == word_for(kind)) return kind;
  }
  return std::nullopt;
}

void tell(const std::string& message, std::ostream& err, const std::string& start) {
  constexpr int message_width = 80;
  for (const std::string& line : wrapped(printable(start + message), message_width)) err << line << '\n';
}

int refuse(const Refusal& refusal, std::ostream& err) {
  std::string start = "not quoted: ";
  std::vector<std::string> sentences = refusal.sentences;
  sentences.emplace_back(refusal.reason == Refusal::Reason::not_licensed
                             ? "--declined makes the invoice for the diagnosis."
                             : "--despite-owner-loss quotes it all the same, and the page says so.");
  for (const std::string& sentence : sentences) {
    tell(start + sentence, err, start.empty() ? "" : "mendworth: ");
    start.clear();
  }
  return refused;
}

QuoteResult quote_from(const QuoteInputs& inputs, const QuoteOptions& options,
                       const QuoteSettings& settings) {
  RateBook rates = built_in_rates();
  if (options.rates_directory) overlay_rates_files(rates, inputs.rates, *options.rates_directory);
  const Shop shop = inputs.shop_text ? read_shop(*inputs.shop_text, *options.shop_path, rates) : Shop{};
  Case c = read_case(inputs.case_text, options.case_path, rates_for(shop, rates), options.overrides);
  std::optional<Drawer> drawer;
  if (inputs.drawer_text) drawer = read_drawer(*inputs.drawer_text, *options.drawer_path);
  const auto quoted = [&](Case& job) {
    std::vector<std::string> drawer_notes;
    if (drawer) drawer_notes = lay_out(*drawer, job);
    QuoteResult result = quote(job, shop, rates, settings);
    if (result.quote && result.quote->shop) {
      auto& notes = result.quote->shop->notes;
      notes.insert(notes.end(), drawer_notes.begin(), drawer_notes.end());
    }
    return result;
  };
  QuoteResult result = quoted(c);
  if (!result.quote || !result.quote->shop) return result;
  for (Scenario& scenario : c.what_ifs) {
    QuoteResult other = quoted(scenario.changed);
    ShopWhatIf& what_if =
        result.quote->shop->what_ifs.emplace_back(ShopWhatIf{scenario.name, scenario.changes, {}, {}});
    if (other.quote) what_if.page = std::move(other.quote->shop);
    if (other.refusal) what_if.refused = other.refusal->sentences.front();
  }
  return result;
}

void set_number(Quote& quote, const std::optional<std::string>& number) {
  quote.customer.number = number;
  if (quote.shop) quote.shop->number = number;
}

std::string page_of(const Quote& quote, QuoteOptions::Page page, PageFormat format, const PageStyle& style) {
  if (page == QuoteOptions::Page::shop) return shop_page(quote.shop.value(), format, style);
  return customer_page(quote.customer, format, style);
}

std::vector<RecordFile> record_of(const Quote& quote, const QuoteInputs& inputs, const QuoteOptions& options,
                                  const QuoteSettings& settings) {
  std::vector<RecordFile> files;
  const bool invoice = quote.customer.document == CustomerPage::Document::decline_invoice;
  const std::string customer = invoice ? "customer/invoice." : "customer/quote.";
  for (const NamedFormat& format : formats) {
    files.push_back({customer + format.ending, customer_page(quote.customer, format.format, {})});
  }
  if (quote.shop) {
    for (const NamedFormat& format : formats)
      files.push_back(
          {std::string("shop/at-cost.") + format.ending, shop_page(*quote.shop, format.format, {})});
  }
  files.push_back({"inputs/case.toml", inputs.case_text});
  if (inputs.shop_text) files.push_back({"inputs/shop.toml", *inputs.shop_text});
  if (inputs.drawer_text) files.push_back({"inputs/drawer.csv", *inputs.drawer_text});
  for (const RatesFile& rates : inputs.rates) {
    const std::string name = std::filesystem::path(rates.path).filename().string();
    files.push_back({"inputs/rates/" + name, rates.text});
  }
  files.push_back({"inputs/command.json", command_record(options, settings)});
  return files;
}

}  // namespace mendworth::cli
