#include "cli/quote_record.hpp"

#include <filesystem>
#include <ostream>
#include <utility>

#include "cli/exit_code.hpp"
#include "cli/problem_text.hpp"
#include "input/day_text.hpp"
#include "mendworth/diagnostic.hpp"
#include "mendworth/drawer.hpp"
#include "mendworth/read_case.hpp"
#include "mendworth/shop.hpp"
#include "render/json_command.hpp"

namespace mendworth::cli {

namespace {

/// The files of one page: each form, whole.
template <class Page>
void add_page_files(const std::string& name, const Page& page,
                    std::string (*text)(const Page&, const PageStyle&), std::string (*json)(const Page&),
                    std::vector<RecordFile>& files) {
  constexpr std::pair<const char*, PageForm> forms[] = {
      {".txt", PageForm::text}, {".md", PageForm::markdown}, {".html", PageForm::html}};
  for (const auto& [ending, form] : forms)
    files.push_back({name + ending, text(page, {.form = form, .show = {"all"}})});
  files.push_back({name + ".json", json(page)});
}

template <class T>
CommandValue given(const std::optional<T>& value) {
  return value ? CommandValue(*value) : CommandValue();
}

CommandValue whole(int value) { return static_cast<std::uint64_t>(value); }

/// Every option, given or not. What the record itself decides (number, date) stands as it was decided.
std::string command_record(const QuoteOptions& options, const QuoteSettings& settings) {
  return command_json(
      "quote", {{"case", options.case_path},
                {"shop", given(options.shop_path)},
                {"page", std::string(options.page == QuoteOptions::Page::shop ? "shop" : "customer")},
                {"format", word_for(formats(), options.looks.format)},
                {"show", options.looks.show},
                {"table", given(options.looks.table)},
                {"out", given(options.looks.out_path)},
                {"record", given(options.record_directory)},
                {"number", given(settings.number)},
                {"date", input::day_text(settings.date)},
                {"choice", settings.choice ? word_for(job_choices(), *settings.choice) : CommandValue()},
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
                {"color", word_for(color_choices(), options.looks.color)}});
}

}  // namespace

const Choices<CustomerChoice::Kind>& job_choices() {
  using Kind = CustomerChoice::Kind;
  static const Choices<Kind> all = {{"failed-only", Kind::failed_only},
                                    {"with-mates", Kind::with_mates},
                                    {"every-original", Kind::every_original}};
  return all;
}

int refuse(const Refusal& refusal, std::ostream& err, int columns) {
  std::string start = "mendworth: not quoted: ";
  std::vector<std::string> sentences = refusal.sentences;
  sentences.emplace_back(refusal.reason == Refusal::Reason::not_licensed
                             ? "--declined makes the invoice for the diagnosis."
                             : "--despite-owner-loss quotes it all the same, and the page says so.");
  for (const std::string& sentence : sentences) {
    err << message_text(start + sentence, columns);
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

AnswerOutput page_output(const QuoteOptions& options, const Surroundings& surroundings) {
  const bool shop = options.page == QuoteOptions::Page::shop;
  if (!shop && !options.looks.show.empty())
    throw UsageError("--show goes with --page shop: the customer's page is whole");
  return {options.looks,
          shop ? shop_sections() : std::vector<std::string>{},
          {options.case_path, options.shop_path, options.drawer_path},
          surroundings};
}

void write_page(const Quote& quote, const QuoteOptions& options, AnswerOutput& out, const Streams& streams) {
  if (options.page == QuoteOptions::Page::shop) {
    out.write(quote.shop.value(), shop_page, shop_json, streams);
  } else {
    out.write(quote.customer, customer_page, customer_json, streams);
  }
}

std::vector<RecordFile> record_of(const Quote& quote, const QuoteInputs& inputs, const QuoteOptions& options,
                                  const QuoteSettings& settings) {
  std::vector<RecordFile> files;
  const bool invoice = quote.customer.document == CustomerPage::Document::decline_invoice;
  add_page_files<CustomerPage>(invoice ? "customer/invoice" : "customer/quote", quote.customer, customer_page,
                               customer_json, files);
  if (quote.shop) add_page_files<ShopPage>("shop/at-cost", *quote.shop, shop_page, shop_json, files);
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
