import java.io.FileInputStream;
import java.util.Map;
import java.util.TreeMap;
import org.verapdf.gf.foundry.VeraGreenfieldFoundryProvider;
import org.verapdf.pdfa.Foundries;
import org.verapdf.pdfa.PDFAParser;
import org.verapdf.pdfa.PDFAValidator;
import org.verapdf.pdfa.flavours.PDFAFlavour;
import org.verapdf.pdfa.results.TestAssertion;
import org.verapdf.pdfa.results.ValidationResult;

/**
 * Prints veraPDF's verdict on each file: {@code Verdicts FLAVOUR FILE...}, FLAVOUR one of ua1, 2a, 3a. Exits with 1
 * if any file fails, naming each broken rule once.
 */
public class Verdicts {
  public static void main(String[] args) throws Exception {
    VeraGreenfieldFoundryProvider.initialise();
    PDFAFlavour flavour = PDFAFlavour.byFlavourId(args[0]);
    int failed = 0;
    for (int i = 1; i < args.length; i++) {
      if (!conforms(args[i], flavour)) failed++;
    }
    System.out.printf("%s: %d of %d files conform%n", args[0], args.length - 1 - failed, args.length - 1);
    System.exit(failed == 0 && args.length > 1 ? 0 : 1);
  }

  private static boolean conforms(String file, PDFAFlavour flavour) throws Exception {
    try (PDFAParser parser = Foundries.defaultInstance().createParser(new FileInputStream(file), flavour);
        PDFAValidator validator = Foundries.defaultInstance().createValidator(flavour, false)) {
      ValidationResult result = validator.validate(parser);
      if (result.isCompliant()) return true;
      System.out.println(file + " fails " + flavour.getId());
      broken(result).forEach((rule, times) -> System.out.println("  " + times + " times " + rule));
      return false;
    }
  }

  private static Map<String, Integer> broken(ValidationResult result) {
    Map<String, Integer> rules = new TreeMap<>();
    for (TestAssertion it : result.getTestAssertions()) {
      if (it.getStatus() != TestAssertion.Status.FAILED) continue;
      String rule = it.getRuleId().getClause() + "-" + it.getRuleId().getTestNumber() + " " + it.getMessage();
      rules.merge(rule, 1, Integer::sum);
    }
    return rules;
  }
}
