<?xml version="1.0" encoding="utf-8"?>
<!DOCTYPE TS>
<TS version="2.1" language="de" sourcelanguage="en">
<context>
    <name>Alike</name>
    <message>
        <source>Most like the part on the bench</source>
        <translation>Dem Teil auf dem Messplatz am ähnlichsten</translation>
    </message>
    <message>
        <source>Close</source>
        <translation>Schließen</translation>
    </message>
    <message>
        <source>Close the list of parts like it</source>
        <translation>Die Liste der ähnlichen Teile schließen</translation>
    </message>
    <message>
        <source>can be the same thread</source>
        <translation>kann dasselbe Gewinde sein</translation>
    </message>
    <message>
        <source>not the same thread</source>
        <translation>nicht dasselbe Gewinde</translation>
    </message>
    <message>
        <source>part {number}: {verdict}
pitch diameter {difference} ± {u95}</source>
        <translation>Teil {number}: {verdict}
Flankendurchmesser {difference} ± {u95}</translation>
    </message>
</context>
<context>
    <name>AnswerLine</name>
    <message>
        <source>Answer</source>
        <translation>Antwort</translation>
    </message>
    <message>
        <source>Stated: {text}, by {by}; counts {weight} times.</source>
        <translation>Angegeben: {text} ({by}); zählt {weight}-fach.</translation>
    </message>
    <message>
        <source>To settle it: {facts}</source>
        <translation>Was es klärt: {facts}</translation>
    </message>
</context>
<context>
    <name>Assistant</name>
    <message>
        <source>Is it good?</source>
        <translation>Ist es gut?</translation>
    </message>
    <message>
        <source>Picture file…</source>
        <translation>Bilddatei…</translation>
    </message>
    <message>
        <source>Judge a picture that was taken on the bench</source>
        <translation>Ein Bild beurteilen, das auf dem Messplatz aufgenommen wurde</translation>
    </message>
    <message>
        <source>Other file…</source>
        <translation>Andere Datei…</translation>
    </message>
    <message>
        <source>Next</source>
        <translation>Weiter</translation>
    </message>
    <message>
        <source>Calibrate</source>
        <translation>Kalibrieren</translation>
    </message>
    <message>
        <source>Use this calibration</source>
        <translation>Diese Kalibrierung verwenden</translation>
    </message>
    <message>
        <source>Back</source>
        <translation>Zurück</translation>
    </message>
    <message>
        <source>{number} of {all}  {name}</source>
        <translation>{number} von {all}  {name}</translation>
    </message>
    <message>
        <source>No picture yet: it is judged as soon as one comes.</source>
        <translation>Noch kein Bild: Es wird beurteilt, sobald eines kommt.</translation>
    </message>
    <message>
        <source>No picture yet: choose a camera above, or take one on the bench and choose its file.</source>
        <translation>Noch kein Bild: Wählen Sie oben eine Kamera, oder nehmen Sie auf dem Messplatz eines auf und wählen seine Datei.</translation>
    </message>
    <message>
        <source>Distance and focus are known.</source>
        <translation>Abstand und Schärfe sind bekannt.</translation>
    </message>
    <message>
        <source>What is not said makes U95 wider, nothing else.</source>
        <translation>Was nicht angegeben ist, macht U95 größer, sonst nichts.</translation>
    </message>
    <message>
        <source>Nobody has checked it yet.</source>
        <translation>Noch hat es niemand geprüft.</translation>
    </message>
    <message>
        <source>Judge a picture</source>
        <translation>Ein Bild beurteilen</translation>
    </message>
    <message>
        <source>Pictures</source>
        <translation>Bilder</translation>
    </message>
    <message>
        <source>Missing: {what}.</source>
        <translation>Es fehlt: {what}.</translation>
    </message>
    <message>
        <source>calibrating the bench</source>
        <translation>Der Messplatz wird kalibriert</translation>
    </message>
    <message>
        <source>verifying the bench</source>
        <translation>Der Messplatz wird nachgeprüft</translation>
    </message>
    <message>
        <source>Save the calibration</source>
        <translation>Die Kalibrierung sichern</translation>
    </message>
    <message>
        <source>Calibrations</source>
        <translation>Kalibrierungen</translation>
    </message>
    <message>
        <source>The new calibration is in use, kept as {name}.</source>
        <translation>Die neue Kalibrierung wird verwendet, abgelegt als {name}.</translation>
    </message>
    <message>
        <source>saving the bench</source>
        <translation>Der Messplatz wird gesichert</translation>
    </message>
</context>
<context>
    <name>Away</name>
    <message>
        <source>What is exported</source>
        <translation>Was ausgegeben wird</translation>
    </message>
    <message>
        <source>this job</source>
        <translation>dieser Auftrag</translation>
    </message>
    <message>
        <source>everything</source>
        <translation>alles</translation>
    </message>
    <message>
        <source>Export…</source>
        <translation>Ausgeben…</translation>
    </message>
    <message>
        <source>Import…</source>
        <translation>Einlesen…</translation>
    </message>
    <message>
        <source>Back up…</source>
        <translation>Sichern…</translation>
    </message>
    <message>
        <source>Verify</source>
        <translation>Durchsehen</translation>
    </message>
    <message>
        <source>parts of</source>
        <translation>Teile von</translation>
    </message>
    <message>
        <source>Bundle with pictures</source>
        <translation>Bündel mit Bildern</translation>
    </message>
    <message>
        <source>Table</source>
        <translation>Tabelle</translation>
    </message>
    <message>
        <source>Document</source>
        <translation>Dokument</translation>
    </message>
    <message>
        <source>Export</source>
        <translation>Ausgeben</translation>
    </message>
    <message>
        <source>{name}: the ending says what is written: .flankwise or .zip, .csv or .json.</source>
        <translation>{name}: Die Endung sagt, was geschrieben wird: .flankwise oder .zip, .csv oder .json.</translation>
    </message>
    <message>
        <source>{count} parts are in {path}.</source>
        <translation>{count} Teile liegen in {path}.</translation>
    </message>
    <message>
        <source>exporting</source>
        <translation>Es wird ausgegeben</translation>
    </message>
    <message>
        <source>Bundle, table, document</source>
        <translation>Bündel, Tabelle, Dokument</translation>
    </message>
    <message>
        <source>Import</source>
        <translation>Einlesen</translation>
    </message>
    <message>
        <source>{count} parts were taken in from {path}.</source>
        <translation>{count} Teile wurden aus {path} aufgenommen.</translation>
    </message>
    <message>
        <source>importing</source>
        <translation>Es wird eingelesen</translation>
    </message>
    <message>
        <source>A folder for the backup: empty, or with an earlier one</source>
        <translation>Ein Ordner für die Sicherung: leer oder mit einer früheren</translation>
    </message>
    <message>
        <source>The backup is in {path}.</source>
        <translation>Die Sicherung liegt in {path}.</translation>
    </message>
    <message>
        <source>backing up</source>
        <translation>Es wird gesichert</translation>
    </message>
    <message>
        <source>Everything was written but for {count}:</source>
        <translation>Alles wurde geschrieben bis auf {count}:</translation>
    </message>
    <message>
        <source>The register is sound: rows, references and pictures.</source>
        <translation>Die Kartei ist in Ordnung: Zeilen, Verweise und Bilder.</translation>
    </message>
    <message>
        <source>looking at the register</source>
        <translation>Die Kartei wird durchgesehen</translation>
    </message>
</context>
<context>
    <name>BenchPlace</name>
    <message>
        <source>Take a picture</source>
        <translation>Ein Bild aufnehmen</translation>
    </message>
    <message>
        <source>Pause, or go on</source>
        <translation>Anhalten oder weitergehen</translation>
    </message>
    <message>
        <source>Reconnect, or play again</source>
        <translation>Neu verbinden oder noch einmal abspielen</translation>
    </message>
    <message>
        <source>Show what the first camera sees</source>
        <translation>Zeigen, was die erste Kamera sieht</translation>
    </message>
    <message>
        <source>Play a video</source>
        <translation>Ein Video abspielen</translation>
    </message>
    <message>
        <source>Watch a folder</source>
        <translation>Einen Ordner beobachten</translation>
    </message>
    <message>
        <source>Set up and calibrate</source>
        <translation>Einrichten und kalibrieren</translation>
    </message>
    <message>
        <source>Daily check with a pin</source>
        <translation>Tägliche Prüfung mit einem Stift</translation>
    </message>
    <message>
        <source>Give a scale by hand</source>
        <translation>Einen Maßstab von Hand angeben</translation>
    </message>
    <message>
        <source>Live numbers</source>
        <translation>Laufende Messung</translation>
    </message>
    <message>
        <source>Back to the calibration in use</source>
        <translation>Zurück zur verwendeten Kalibrierung</translation>
    </message>
    <message>
        <source>Live numbers need a camera or a video, chosen above, and a calibration.</source>
        <translation>Die laufende Messung braucht eine Kamera oder ein Video, oben gewählt, und eine Kalibrierung.</translation>
    </message>
    <message>
        <source>Pictures of pins are taken in step 6, those of parts once the bench is calibrated.</source>
        <translation>Bilder von Stiften werden in Schritt 6 aufgenommen, die von Teilen, sobald der Messplatz kalibriert ist.</translation>
    </message>
    <message>
        <source>There is no live picture to take. Choose a camera or a video above.</source>
        <translation>Es gibt kein lebendes Bild zum Aufnehmen. Wählen Sie oben eine Kamera oder ein Video.</translation>
    </message>
    <message>
        <source>No camera is found. Plug one in and look again.</source>
        <translation>Keine Kamera gefunden. Stecken Sie eine an und sehen Sie noch einmal nach.</translation>
    </message>
    <message>
        <source>looking for cameras</source>
        <translation>Kameras werden gesucht</translation>
    </message>
    <message>
        <source>Open a calibration</source>
        <translation>Eine Kalibrierung öffnen</translation>
    </message>
    <message>
        <source>Calibrations</source>
        <translation>Kalibrierungen</translation>
    </message>
</context>
<context>
    <name>BenchSteps</name>
    <message>
        <source>Light</source>
        <translation>Licht</translation>
    </message>
    <message>
        <source>Focus</source>
        <translation>Schärfe</translation>
    </message>
    <message>
        <source>Alignment</source>
        <translation>Lage</translation>
    </message>
    <message>
        <source>Distance</source>
        <translation>Abstand</translation>
    </message>
    <message>
        <source>Mask</source>
        <translation>Blende</translation>
    </message>
    <message>
        <source>Pins</source>
        <translation>Stifte</translation>
    </message>
    <message>
        <source>Check</source>
        <translation>Prüfen</translation>
    </message>
    <message>
        <source>Lay one pin in the V-block. Switch the light pad behind it on and every lamp beside it off: they make edges shine.</source>
        <translation>Legen Sie einen Stift in das Prisma. Schalten Sie die Leuchtfläche dahinter ein und jede Lampe daneben aus: Sie lassen Kanten glänzen.</translation>
    </message>
    <message>
        <source>Move the lens until the outline of the pin is sharp. Then lock the focus, if the camera lets you.</source>
        <translation>Bewegen Sie das Objektiv, bis der Umriss des Stifts scharf ist. Sperren Sie dann die Schärfe, wenn die Kamera es zulässt.</translation>
    </message>
    <message>
        <source>The pin lies along the picture, with light on both sides. Turn camera or block until it is straight.</source>
        <translation>Der Stift liegt längs im Bild, mit Licht auf beiden Seiten. Drehen Sie Kamera oder Prisma, bis er gerade liegt.</translation>
    </message>
    <message>
        <source>How far is the front of the lens from the pin? A telecentric lens has no distance: it shows near and far alike.</source>
        <translation>Wie weit ist die Vorderkante des Objektivs vom Stift entfernt? Ein telezentrisches hat keinen Abstand: Es zeigt nah und fern gleich groß.</translation>
    </message>
    <message>
        <source>Mask the pad to a small patch in the middle of the view, far behind the part. Say how wide it is and how far away: what the edges mirror of it is then put right.</source>
        <translation>Decken Sie die Leuchtfläche bis auf einen kleinen Fleck in der Bildmitte ab, weit hinter dem Teil. Geben Sie an, wie groß er ist und wie weit entfernt: Was die Kanten davon spiegeln, wird dann berichtigt.</translation>
    </message>
    <message>
        <source>Two pins of clearly different diameter tell the scale and the edge offset apart. All in the plane in which the parts&apos; axes will lie, nothing moved between.</source>
        <translation>Zwei Stifte deutlich verschiedener Durchmesser trennen Maßstab und Kantenversatz. Alle in der Ebene, in der die Achsen der Teile liegen werden, nichts dazwischen bewegt.</translation>
    </message>
    <message>
        <source>A third pin, if you have one, shows whether the calibration is right.</source>
        <translation>Ein dritter Stift, wenn Sie einen haben, zeigt, ob die Kalibrierung stimmt.</translation>
    </message>
</context>
<context>
    <name>BudgetTable</name>
    <message>
        <source>Quantity whose budget is shown</source>
        <translation>Größe, deren Budget gezeigt wird</translation>
    </message>
    <message>
        <source>source</source>
        <translation>Quelle</translation>
    </message>
    <message>
        <source>standard uncertainty</source>
        <translation>Standardunsicherheit</translation>
    </message>
    <message>
        <source>share</source>
        <translation>Anteil</translation>
    </message>
    <message>
        <source>Uncertainty budget</source>
        <translation>Unsicherheitsbudget</translation>
    </message>
    <message>
        <source>full bound, one side</source>
        <translation>volle Schranke, eine Seite</translation>
    </message>
</context>
<context>
    <name>Bundles</name>
    <message>
        <source>Not now</source>
        <translation>Jetzt nicht</translation>
    </message>
    <message>
        <source>{name} holds parts of another register. File them in yours?</source>
        <translation>{name} enthält Teile aus einer anderen Kartei. In Ihre übernehmen?</translation>
    </message>
    <message>
        <source>File them</source>
        <translation>Übernehmen</translation>
    </message>
</context>
<context>
    <name>Cards</name>
    <message>
        <source>Tray: pictures that arrived</source>
        <translation>Eingang: eingetroffene Bilder</translation>
    </message>
</context>
<context>
    <name>CheckChart</name>
    <message>
        <source>The checks of the bench over time</source>
        <translation>Die Prüfungen des Messplatzes im Lauf der Zeit</translation>
    </message>
    <message>
        <source>{day}: {off} µm, limits ± {limit} µm</source>
        <translation>{day}: {off} µm, Grenzen ± {limit} µm</translation>
    </message>
    <message>
        <source>pin, measured less known, µm</source>
        <translation>Stift, gemessen minus bekannt, µm</translation>
    </message>
</context>
<context>
    <name>CheckView</name>
    <message>
        <source>class, such as 4-40 NC-3; empty: the original</source>
        <translation>Klasse wie 4-40 NC-3; leer: das Original</translation>
    </message>
    <message>
        <source>Class that the replacement is held against</source>
        <translation>Klasse, an der der Ersatz gemessen wird</translation>
    </message>
    <message>
        <source>Micrometer reading over three wires</source>
        <translation>Ablesung der Messschraube über drei Drähte</translation>
    </message>
    <message>
        <source>over wires, 3.021mm</source>
        <translation>über Drähte, 3.021mm</translation>
    </message>
    <message>
        <source>wire, 0.455mm</source>
        <translation>Draht, 0.455mm</translation>
    </message>
    <message>
        <source>With its U95 if you know it: {example}</source>
        <translation>Mit seiner U95, wenn Sie sie kennen: {example}</translation>
    </message>
    <message>
        <source>Diameter of the wires</source>
        <translation>Durchmesser der Drähte</translation>
    </message>
    <message>
        <source>Check</source>
        <translation>Prüfen</translation>
    </message>
    <message>
        <source>the reading over wires</source>
        <translation>die Ablesung über Drähte</translation>
    </message>
    <message>
        <source>the wire</source>
        <translation>der Draht</translation>
    </message>
    <message>
        <source>Type a class, or lay an original beside the replacement.</source>
        <translation>Geben Sie eine Klasse ein, oder legen Sie ein Original neben den Ersatz.</translation>
    </message>
    <message>
        <source>Errors of pitch count over {engaged} of engagement. A limit is kept if it is cleared by 2 u (U95), broken if it is passed by 2.6 u: stricter than the default of ISO 14253-1, 1.65 u, because five limits may break and a good part shall not fail by bad luck.</source>
        <translation>Steigungsfehler zählen über {engaged} Einschraublänge. Eine Grenze ist eingehalten, wenn 2 u (U95) Abstand bleiben, verletzt, wenn sie um 2,6 u überschritten ist: strenger als die Vorgabe von ISO 14253-1 (1,65 u), weil fünf Grenzen brechen können und ein gutes Teil nicht durch Pech durchfallen soll.</translation>
    </message>
    <message>
        <source>pitch diameter by the picture {picture}, over wires {wires}, both together {both}{trouble}</source>
        <translation>Flankendurchmesser nach dem Bild {picture}, über Drähte {wires}, beides zusammen {both}{trouble}</translation>
    </message>
    <message>
        <source>; they disagree: look for dirt, a burr, a wrong wire</source>
        <translation>; sie widersprechen sich: Suchen Sie nach Schmutz, einem Grat, einem falschen Draht</translation>
    </message>
</context>
<context>
    <name>ClassBars</name>
    <message>
        <source>Pitch diameter in the zone of each class</source>
        <translation>Flankendurchmesser in der Toleranz jeder Klasse</translation>
    </message>
    <message>
        <source>pitch diameter {measured} in the zone of each class</source>
        <translation>Flankendurchmesser {measured} in der Toleranz jeder Klasse</translation>
    </message>
</context>
<context>
    <name>CompareView</name>
    <message>
        <source>original</source>
        <translation>Original</translation>
    </message>
    <message>
        <source>replacement</source>
        <translation>Ersatz</translation>
    </message>
    <message>
        <source>difference</source>
        <translation>Unterschied</translation>
    </message>
    <message>
        <source>Overlay of original and replacement</source>
        <translation>Überlagerung von Original und Ersatz</translation>
    </message>
    <message>
        <source>significant</source>
        <translation>signifikant</translation>
    </message>
    <message>
        <source>Differences</source>
        <translation>Unterschiede</translation>
    </message>
    <message>
        <source>Lay an original and a replacement into their slots.</source>
        <translation>Legen Sie ein Original und einen Ersatz in ihre Felder.</translation>
    </message>
    <message>
        <source>yes</source>
        <translation>ja</translation>
    </message>
    <message>
        <source>Scale, edge offset, temperature and light are those of one bench and fall out.</source>
        <translation>Maßstab, Kantenversatz, Temperatur und Licht sind die eines Messplatzes und fallen heraus.</translation>
    </message>
    <message>
        <source>The two come from benches calibrated apart: nothing falls out of the differences.</source>
        <translation>Die beiden stammen von getrennt kalibrierten Messplätzen: Aus den Unterschieden fällt nichts heraus.</translation>
    </message>
    <message>
        <source>Of one of the two only the sizes on file are known: what both have in common does not fall out of the differences.</source>
        <translation>Von einem der beiden sind nur die Maße in der Ablage bekannt: Was beide gemeinsam haben, fällt aus den Unterschieden nicht heraus.</translation>
    </message>
    <message>
        <source>Significant: more than {times:.1f} u off zero, which two equal parts show in 5 % of cases.</source>
        <translation>Signifikant: mehr als {times:.1f} u von null entfernt, was zwei gleiche Teile in 5 % der Fälle zeigen.</translation>
    </message>
    <message>
        <source>pitch diameter {difference}: significant</source>
        <translation>Flankendurchmesser {difference}: signifikant</translation>
    </message>
    <message>
        <source>pitch diameter {difference}: not significant</source>
        <translation>Flankendurchmesser {difference}: nicht signifikant</translation>
    </message>
    <message>
        <source>Which way the parts point is not in view: left and right of the replacement are exchanged.</source>
        <translation>Wohin die Teile zeigen, ist nicht im Bild: Links und rechts des Ersatzes sind vertauscht.</translation>
    </message>
</context>
<context>
    <name>CurrentBench</name>
    <message>
        <source>By hand…</source>
        <translation>Von Hand…</translation>
    </message>
    <message>
        <source>Give a scale by hand, without gauges</source>
        <translation>Einen Maßstab von Hand angeben, ohne Normale</translation>
    </message>
    <message>
        <source>Open…</source>
        <translation>Öffnen…</translation>
    </message>
    <message>
        <source>Open a calibration file</source>
        <translation>Eine Kalibrierdatei öffnen</translation>
    </message>
    <message>
        <source>No calibration is in use. Until one is, pictures can be looked at but not measured. Calibrate with gauge pins, open a calibration that you have, or give a scale by hand.</source>
        <translation>Es wird keine Kalibrierung verwendet. Bis dahin lassen sich Bilder ansehen, aber nicht messen. Kalibrieren Sie mit Prüfstiften, öffnen Sie eine vorhandene Kalibrierung, oder geben Sie einen Maßstab von Hand an.</translation>
    </message>
    <message>
        <source>Set up and calibrate (G)</source>
        <translation>Einrichten und kalibrieren (G)</translation>
    </message>
    <message>
        <source>Daily check (V)</source>
        <translation>Tägliche Prüfung (V)</translation>
    </message>
    <message>
        <source>Calibration in use</source>
        <translation>Verwendete Kalibrierung</translation>
    </message>
    <message>
        <source>Sample calibration: for the pictures of the tour alone. It goes when the tour ends.</source>
        <translation>Beispielkalibrierung: nur für die Bilder des Rundgangs. Sie verschwindet, wenn der Rundgang endet.</translation>
    </message>
    <message>
        <source>Given by hand: no gauge stands behind it.</source>
        <translation>Von Hand angegeben: Kein Normal steht dahinter.</translation>
    </message>
    <message>
        <source>Calibrated {when}.</source>
        <translation>Kalibriert {when}.</translation>
    </message>
    <message>
        <source>it held</source>
        <translation>er stimmte</translation>
    </message>
    <message>
        <source>it did not hold</source>
        <translation>er stimmte nicht</translation>
    </message>
    <message>
        <source>Calibrated {when}, verified {then}: {outcome}.</source>
        <translation>Kalibriert {when}, nachgeprüft {then}: {outcome}.</translation>
    </message>
    <message>
        <source>today</source>
        <translation>heute</translation>
    </message>
    <message>
        <source>yesterday</source>
        <translation>gestern</translation>
    </message>
    <message>
        <source>{days} days ago</source>
        <translation>vor {days} Tagen</translation>
    </message>
</context>
<context>
    <name>CutChart</name>
    <message>
        <source>Pitch diameter over the attempts</source>
        <translation>Flankendurchmesser über den Versuchen</translation>
    </message>
    <message>
        <source>pitch diameter, {unit}</source>
        <translation>Flankendurchmesser, {unit}</translation>
    </message>
    <message>
        <source>wanted</source>
        <translation>gewollt</translation>
    </message>
    <message>
        <source>aim</source>
        <translation>Ziel</translation>
    </message>
    <message>
        <source>attempt, with U95</source>
        <translation>Versuch, mit U95</translation>
    </message>
    <message>
        <source>next, expected</source>
        <translation>nächster, erwartet</translation>
    </message>
    <message>
        <source>next</source>
        <translation>nächster</translation>
    </message>
</context>
<context>
    <name>CutRow</name>
    <message>
        <source>attempt {number}</source>
        <translation>Versuch {number}</translation>
    </message>
    <message>
        <source>setting: 1/4 turn</source>
        <translation>Einstellung: 1/4 Umdrehung</translation>
    </message>
    <message>
        <source>{attempt}: how the die was set</source>
        <translation>{attempt}: wie das Schneideisen eingestellt war</translation>
    </message>
    <message>
        <source>Turns of the die&apos;s screw, always counted from the same place: open 1/4 turn, closed 1/8 turn.</source>
        <translation>Umdrehungen der Schraube am Schneideisen, immer von derselben Stelle gezählt: 1/4 Umdrehung auf, 1/8 Umdrehung zu.</translation>
    </message>
    <message>
        <source>{attempt}: take it out</source>
        <translation>{attempt}: herausnehmen</translation>
    </message>
    <message>
        <source>{by} too thick</source>
        <translation>{by} zu dick</translation>
    </message>
    <message>
        <source>{by} too thin</source>
        <translation>{by} zu dünn</translation>
    </message>
    <message>
        <source>part {number}</source>
        <translation>Teil {number}</translation>
    </message>
</context>
<context>
    <name>CutRows</name>
    <message>
        <source>No attempt yet.</source>
        <translation>Noch kein Versuch.</translation>
    </message>
</context>
<context>
    <name>CutView</name>
    <message>
        <source>What is cut for</source>
        <translation>Wofür geschnitten wird</translation>
    </message>
    <message>
        <source>to be as the original</source>
        <translation>wie das Original</translation>
    </message>
    <message>
        <source>to a class</source>
        <translation>auf eine Klasse</translation>
    </message>
    <message>
        <source>to fit the hole</source>
        <translation>passend zum Loch</translation>
    </message>
    <message>
        <source>Class to cut to</source>
        <translation>Klasse, auf die geschnitten wird</translation>
    </message>
    <message>
        <source>class, such as 4-40 NC-2</source>
        <translation>Klasse, etwa 4-40 NC-2</translation>
    </message>
    <message>
        <source>From a file…</source>
        <translation>Aus Datei…</translation>
    </message>
    <message>
        <source>Each new picture is an attempt</source>
        <translation>Jedes neue Bild ist ein Versuch</translation>
    </message>
    <message>
        <source>Cut</source>
        <translation>Schneiden:</translation>
    </message>
    <message>
        <source>with</source>
        <translation>mit</translation>
    </message>
    <message>
        <source>There is no part on the bench.</source>
        <translation>Es liegt kein Teil auf dem Messplatz.</translation>
    </message>
    <message>
        <source>{name} was not measured. {why}</source>
        <translation>{name} wurde nicht gemessen. {why}</translation>
    </message>
    <message>
        <source>{name} is an attempt already.</source>
        <translation>{name} ist schon ein Versuch.</translation>
    </message>
    <message>
        <source>attempt {number}</source>
        <translation>Versuch {number}</translation>
    </message>
    <message>
        <source>setting of attempt {number}</source>
        <translation>Einstellung von Versuch {number}</translation>
    </message>
    <message>
        <source>attempt {number} taken out</source>
        <translation>Versuch {number} herausgenommen</translation>
    </message>
    <message>
        <source>Pictures</source>
        <translation>Bilder</translation>
    </message>
    <message>
        <source>Open a picture</source>
        <translation>Bild öffnen</translation>
    </message>
    <message>
        <source>No calibration is in use: calibrate the bench, or open a calibration, first.</source>
        <translation>Keine Kalibrierung in Gebrauch: Kalibrieren Sie zuerst den Messplatz, oder öffnen Sie eine Kalibrierung.</translation>
    </message>
    <message>
        <source>measuring {name}</source>
        <translation>{name} wird gemessen</translation>
    </message>
    <message>
        <source>looking at the attempts</source>
        <translation>Versuche werden ausgewertet</translation>
    </message>
    <message>
        <source>Lay the original into its slot.</source>
        <translation>Legen Sie das Original in sein Fach.</translation>
    </message>
    <message>
        <source>Type the class to cut to.</source>
        <translation>Geben Sie die Klasse ein, auf die geschnitten wird.</translation>
    </message>
    <message>
        <source>Say what the hole is, or lay a cast of it into its slot.</source>
        <translation>Sagen Sie, was das Loch ist, oder legen Sie einen Abguss davon in sein Fach.</translation>
    </message>
    <message>
        <source>{name} is attempt {number}</source>
        <translation>{name} ist Versuch {number}</translation>
    </message>
    <message>
        <source>Part on the bench is attempt {number}</source>
        <translation>Teil auf dem Messplatz ist Versuch {number}</translation>
    </message>
    <message>
        <source>File the attempts for part {part}</source>
        <translation>Versuche für Teil {part} ablegen</translation>
    </message>
    <message>
        <source>File the attempts</source>
        <translation>Versuche ablegen</translation>
    </message>
    <message>
        <source>Attempts are filed for an original that is on file.</source>
        <translation>Versuche lassen sich ablegen, wenn das Original abgelegt ist.</translation>
    </message>
    <message>
        <source>filing the attempts</source>
        <translation>Versuche werden abgelegt</translation>
    </message>
    <message>
        <source>Attempts on file: {count}.</source>
        <translation>Versuche abgelegt: {count}.</translation>
    </message>
</context>
<context>
    <name>Desk</name>
    <message>
        <source>reading the bench</source>
        <translation>Der Messplatz wird gelesen</translation>
    </message>
    <message>
        <source>{name} is in the tray already.</source>
        <translation>{name} liegt schon im Eingang.</translation>
    </message>
</context>
<context>
    <name>DieField</name>
    <message>
        <source>The die</source>
        <translation>Das Schneideisen</translation>
    </message>
    <message>
        <source>Label…</source>
        <translation>Etikett…</translation>
    </message>
    <message>
        <source>Save the label for the box of this die</source>
        <translation>Das Etikett für die Schachtel dieses Schneideisens speichern</translation>
    </message>
    <message>
        <source>All dies…</source>
        <translation>Alle Schneideisen…</translation>
    </message>
    <message>
        <source>Save a sheet of all dies, by what they cut</source>
        <translation>Ein Blatt mit allen Schneideisen speichern, nach dem, was sie schneiden</translation>
    </message>
    <message>
        <source>reading the dies</source>
        <translation>Schneideisen werden gelesen</translation>
    </message>
    <message>
        <source>nearest: {name}</source>
        <translation>am nächsten: {name}</translation>
    </message>
    <message>
        <source>name of the die</source>
        <translation>Name des Schneideisens</translation>
    </message>
    <message>
        <source>Save the label</source>
        <translation>Etikett speichern</translation>
    </message>
    <message>
        <source>Save the sheet of all dies</source>
        <translation>Blatt mit allen Schneideisen speichern</translation>
    </message>
    <message>
        <source>dies</source>
        <translation>Schneideisen</translation>
    </message>
    <message>
        <source>writing {name}</source>
        <translation>{name} wird geschrieben</translation>
    </message>
    <message>
        <source>Written: {path}</source>
        <translation>Geschrieben: {path}</translation>
    </message>
</context>
<context>
    <name>Facts</name>
    <message>
        <source>Scale</source>
        <translation>Maßstab</translation>
    </message>
    <message>
        <source>Gauges: residual and U95</source>
        <translation>Normale: Rest und U95</translation>
    </message>
    <message>
        <source>Nothing is left over by which these gauges could check each other: one more would.</source>
        <translation>Nichts bleibt übrig, woran diese Normale einander prüfen könnten: Eines mehr täte es.</translation>
    </message>
    <message>
        <source>Warnings</source>
        <translation>Warnungen</translation>
    </message>
    <message>
        <source>Edge offset</source>
        <translation>Kantenversatz</translation>
    </message>
    <message>
        <source>Light cone</source>
        <translation>Lichtkegel</translation>
    </message>
    <message>
        <source>Lens</source>
        <translation>Objektiv</translation>
    </message>
    <message>
        <source>Pictures</source>
        <translation>Bilder</translation>
    </message>
    <message>
        <source>Focus</source>
        <translation>Schärfe</translation>
    </message>
    <message>
        <source>One pixel is</source>
        <translation>Ein Pixel ist</translation>
    </message>
    <message>
        <source>not known</source>
        <translation>nicht bekannt</translation>
    </message>
    <message>
        <source>{cone}, found from the gauges</source>
        <translation>{cone}, aus den Normalen gefunden</translation>
    </message>
    <message>
        <source>locked</source>
        <translation>festgestellt</translation>
    </message>
    <message>
        <source>not locked: lay a pin beside the part</source>
        <translation>nicht festgestellt: Stift neben das Teil legen</translation>
    </message>
    <message>
        <source>Warning: {what}</source>
        <translation>Warnung: {what}</translation>
    </message>
    <message>
        <source>distortion taken out ({shift} px in the corners)</source>
        <translation>Verzeichnung herausgerechnet ({shift} px in den Ecken)</translation>
    </message>
    <message>
        <source>no distortion taken out</source>
        <translation>keine Verzeichnung herausgerechnet</translation>
    </message>
</context>
<context>
    <name>FilingQueue</name>
    <message>
        <source>It was not filed.</source>
        <translation>Es kam nicht ins Register.</translation>
    </message>
    <message>
        <source>filing {name}</source>
        <translation>{name} wird abgelegt</translation>
    </message>
</context>
<context>
    <name>Filters</name>
    <message>
        <source>any</source>
        <translation>beliebig</translation>
    </message>
    <message>
        <source>withdrawn ones too</source>
        <translation>auch zurückgezogene</translation>
    </message>
    <message>
        <source>pitch diameter from</source>
        <translation>Flankendurchmesser von</translation>
    </message>
    <message>
        <source>to</source>
        <translation>bis</translation>
    </message>
    <message>
        <source>made after</source>
        <translation>gebaut nach</translation>
    </message>
    <message>
        <source>made before</source>
        <translation>gebaut vor</translation>
    </message>
    <message>
        <source>country</source>
        <translation>Land</translation>
    </message>
    <message>
        <source>series</source>
        <translation>Reihe</translation>
    </message>
    <message>
        <source>thread</source>
        <translation>Gewinde</translation>
    </message>
</context>
<context>
    <name>Findings</name>
    <message>
        <source>Findings</source>
        <translation>Befund</translation>
    </message>
    <message>
        <source>More numbers</source>
        <translation>Weitere Zahlen</translation>
    </message>
    <message>
        <source>Click on a number to see where in the picture it was taken</source>
        <translation>Klicken Sie auf eine Zahl, um zu sehen, wo im Bild sie genommen wurde</translation>
    </message>
    <message>
        <source>quantity</source>
        <translation>Größe</translation>
    </message>
    <message>
        <source>value</source>
        <translation>Wert</translation>
    </message>
    <message>
        <source>with U95</source>
        <translation>mit U95</translation>
    </message>
    <message>
        <source>from</source>
        <translation>von</translation>
    </message>
    <message>
        <source>to</source>
        <translation>bis</translation>
    </message>
    <message>
        <source>not determined</source>
        <translation>nicht bestimmt</translation>
    </message>
    <message>
        <source>It is grey because: {why}</source>
        <translation>Grau, weil: {why}</translation>
    </message>
    <message>
        <source>{name}: limits {low} to {high}</source>
        <translation>{name}: Grenzen {low} bis {high}</translation>
    </message>
</context>
<context>
    <name>FitPlace</name>
    <message>
        <source>Overlay</source>
        <translation>Überlagerung</translation>
    </message>
    <message>
        <source>Check</source>
        <translation>Prüfen</translation>
    </message>
    <message>
        <source>Play in the hole</source>
        <translation>Spiel im Loch</translation>
    </message>
    <message>
        <source>Size of the hole</source>
        <translation>Größe des Lochs</translation>
    </message>
    <message>
        <source>Cutting to fit</source>
        <translation>Passend schneiden</translation>
    </message>
    <message>
        <source>Exchange</source>
        <translation>Vertauschen</translation>
    </message>
    <message>
        <source>Figure…</source>
        <translation>Abbildung…</translation>
    </message>
    <message>
        <source>Exchange original and replacement</source>
        <translation>Original und Ersatz vertauschen</translation>
    </message>
    <message>
        <source>Part on the bench as the original</source>
        <translation>Teil auf dem Messplatz als Original</translation>
    </message>
    <message>
        <source>Part on the bench as the replacement</source>
        <translation>Teil auf dem Messplatz als Ersatz</translation>
    </message>
    <message>
        <source>Say what the hole is</source>
        <translation>Sagen, was das Loch ist</translation>
    </message>
    <message>
        <source>Next view</source>
        <translation>Nächste Ansicht</translation>
    </message>
    <message>
        <source>Save a figure…</source>
        <translation>Abbildung sichern…</translation>
    </message>
    <message>
        <source>reading the tables</source>
        <translation>Die Tabellen werden gelesen</translation>
    </message>
    <message>
        <source>comparing</source>
        <translation>Es wird verglichen</translation>
    </message>
    <message>
        <source>checking</source>
        <translation>Es wird geprüft</translation>
    </message>
    <message>
        <source>putting together</source>
        <translation>Es wird zusammengesetzt</translation>
    </message>
    <message>
        <source>filing the hole</source>
        <translation>Loch wird abgelegt</translation>
    </message>
    <message>
        <source>trying {name}</source>
        <translation>{name} wird versucht</translation>
    </message>
    <message>
        <source>reading part {number}</source>
        <translation>Teil {number} wird gelesen</translation>
    </message>
    <message>
        <source>reading the register</source>
        <translation>Die Kartei wird gelesen</translation>
    </message>
    <message>
        <source>open 1/4 turn</source>
        <translation>1/4 Umdrehung auf</translation>
    </message>
    <message>
        <source>index arm post</source>
        <translation>Alhidadenpfosten</translation>
    </message>
    <message>
        <source>A figure needs the picture of the replacement, and of the original to compare it with.</source>
        <translation>Eine Abbildung braucht das Bild des Ersatzes und zum Vergleich das des Originals.</translation>
    </message>
</context>
<context>
    <name>Foot</name>
    <message>
        <source>Calibration in use</source>
        <translation>Verwendete Kalibrierung</translation>
    </message>
    <message>
        <source>Part on the bench</source>
        <translation>Teil auf dem Messplatz</translation>
    </message>
    <message>
        <source>Unit: press to change</source>
        <translation>Einheit: drücken zum Wechseln</translation>
    </message>
    <message>
        <source>Being computed</source>
        <translation>Wird gerechnet</translation>
    </message>
    <message>
        <source>How far it is</source>
        <translation>Wie weit es ist</translation>
    </message>
    <message>
        <source>Cancel</source>
        <translation>Abbrechen</translation>
    </message>
    <message>
        <source>inches</source>
        <translation>Zoll</translation>
    </message>
    <message>
        <source>millimetres</source>
        <translation>Millimeter</translation>
    </message>
    <message>
        <source>no part on the bench</source>
        <translation>kein Teil auf dem Messplatz</translation>
    </message>
    <message>
        <source>waiting for another program that is writing the register</source>
        <translation>wartet auf ein anderes Programm, das in die Kartei schreibt</translation>
    </message>
</context>
<context>
    <name>GaugePicture</name>
    <message>
        <source>The edges that were found. Click to see them large.</source>
        <translation>Die gefundenen Kanten. Klicken zeigt sie groß.</translation>
    </message>
</context>
<context>
    <name>GaugeRow</name>
    <message>
        <source>Pin</source>
        <translation>Stift</translation>
    </message>
    <message>
        <source>Diameter of the pin</source>
        <translation>Durchmesser des Stifts</translation>
    </message>
    <message>
        <source>Stage micrometer</source>
        <translation>Objektmaßstab</translation>
    </message>
    <message>
        <source>Distance of its finest divisions</source>
        <translation>Abstand seiner feinsten Teilung</translation>
    </message>
    <message>
        <source>Grid</source>
        <translation>Gitter</translation>
    </message>
    <message>
        <source>Side of a square, or distance of dots</source>
        <translation>Seite eines Quadrats, oder Abstand der Punkte</translation>
    </message>
    <message>
        <source>U95 of it, from the certificate</source>
        <translation>seine U95 aus dem Prüfschein</translation>
    </message>
    <message>
        <source>Left empty, 1 µm is assumed and said so.</source>
        <translation>Bleibt es leer, wird 1 µm angenommen und das gesagt.</translation>
    </message>
    <message>
        <source>Take</source>
        <translation>Aufnehmen</translation>
    </message>
    <message>
        <source>Take its picture from the live source</source>
        <translation>Sein Bild aus der lebenden Quelle aufnehmen</translation>
    </message>
    <message>
        <source>Take the picture of this gauge</source>
        <translation>Das Bild dieses Normals aufnehmen</translation>
    </message>
    <message>
        <source>File…</source>
        <translation>Datei…</translation>
    </message>
    <message>
        <source>Picture file of this gauge</source>
        <translation>Bilddatei dieses Normals</translation>
    </message>
    <message>
        <source>Take this gauge away</source>
        <translation>Dieses Normal wegnehmen</translation>
    </message>
    <message>
        <source>What its picture says</source>
        <translation>Was sein Bild sagt</translation>
    </message>
    <message>
        <source>Type its size, then take its picture.</source>
        <translation>Geben Sie sein Maß ein, dann nehmen Sie sein Bild auf.</translation>
    </message>
    <message>
        <source>Picture of the gauge</source>
        <translation>Bild des Normals</translation>
    </message>
    <message>
        <source>Pictures</source>
        <translation>Bilder</translation>
    </message>
    <message>
        <source>Being read…</source>
        <translation>Wird gelesen…</translation>
    </message>
    <message>
        <source>reading the gauge</source>
        <translation>Das Normal wird gelesen</translation>
    </message>
    <message>
        <source>Waits for the next picture in the folder.</source>
        <translation>Wartet auf das nächste Bild im Ordner.</translation>
    </message>
    <message>
        <source>With its unit, for example {example}.</source>
        <translation>Mit Einheit, zum Beispiel {example}.</translation>
    </message>
    <message>
        <source>Now take its picture.</source>
        <translation>Jetzt sein Bild aufnehmen.</translation>
    </message>
    <message>
        <source>Read: {seen} thick.</source>
        <translation>Gelesen: {seen} dick.</translation>
    </message>
    <message>
        <source>Read: {seen} a step, {steps} steps.</source>
        <translation>Gelesen: {seen} je Schritt, {steps} Schritte.</translation>
    </message>
    <message>
        <source>Type its size.</source>
        <translation>Geben Sie sein Maß ein.</translation>
    </message>
    <message>
        <source>About {scale} µm a pixel.</source>
        <translation>Etwa {scale} µm je Pixel.</translation>
    </message>
</context>
<context>
    <name>Gauges</name>
    <message>
        <source>+ Pin</source>
        <translation>+ Stift</translation>
    </message>
    <message>
        <source>+ Micrometer</source>
        <translation>+ Maßstab</translation>
    </message>
    <message>
        <source>+ Grid</source>
        <translation>+ Gitter</translation>
    </message>
    <message>
        <source>{name} was taken away. Undo (Ctrl+Z) lays it down again.</source>
        <translation>{name} wurde weggenommen. Rückgängig (Strg+Z) legt es wieder auf.</translation>
    </message>
    <message>
        <source>Lay down at least one gauge: type its size and take its picture.</source>
        <translation>Legen Sie mindestens ein Normal auf: Geben Sie sein Maß ein und nehmen Sie sein Bild auf.</translation>
    </message>
    <message>
        <source>Size or picture of a gauge is missing ({name}).</source>
        <translation>Maß oder Bild eines Normals fehlt ({name}).</translation>
    </message>
</context>
<context>
    <name>Given</name>
    <message>
        <source>as the picture</source>
        <translation>wie das Bild</translation>
    </message>
    <message>
        <source>not known</source>
        <translation>nicht bekannt</translation>
    </message>
    <message>
        <source>1938 or 1930-1940</source>
        <translation>1938 oder 1930-1940</translation>
    </message>
    <message>
        <source>Whether the other screws of its instrument count, or the part by itself</source>
        <translation>Ob die anderen Schrauben seines Instruments mitzählen, oder das Teil für sich steht</translation>
    </message>
    <message>
        <source>by itself</source>
        <translation>für sich</translation>
    </message>
    <message>
        <source>all series</source>
        <translation>alle Reihen</translation>
    </message>
    <message>
        <source>not looked</source>
        <translation>nicht nachgesehen</translation>
    </message>
    <message>
        <source>right</source>
        <translation>rechts</translation>
    </message>
    <message>
        <source>left</source>
        <translation>links</translation>
    </message>
    <message>
        <source>not said</source>
        <translation>nicht gesagt</translation>
    </message>
    <message>
        <source>bright</source>
        <translation>blank</translation>
    </message>
    <message>
        <source>dull</source>
        <translation>matt</translation>
    </message>
    <message>
        <source>blackened</source>
        <translation>geschwärzt</translation>
    </message>
    <message>
        <source>as seen</source>
        <translation>wie gesehen</translation>
    </message>
    <message>
        <source>the only one</source>
        <translation>das einzige</translation>
    </message>
    <message>
        <source>none, or its diameter</source>
        <translation>keiner, oder sein Durchmesser</translation>
    </message>
    <message>
        <source>A gauge pin beside the part gives the scale of this picture, also where the camera refocused</source>
        <translation>Ein Prüfstift neben dem Teil gibt den Maßstab dieses Bildes, auch wo die Kamera neu scharf gestellt hat</translation>
    </message>
    <message>
        <source>surface</source>
        <translation>Oberfläche</translation>
    </message>
    <message>
        <source>part of</source>
        <translation>Teil von</translation>
    </message>
    <message>
        <source>name</source>
        <translation>Name</translation>
    </message>
    <message>
        <source>country</source>
        <translation>Land</translation>
    </message>
    <message>
        <source>made</source>
        <translation>Baujahr</translation>
    </message>
    <message>
        <source>series</source>
        <translation>Reihe</translation>
    </message>
    <message>
        <source>hand</source>
        <translation>Drehsinn</translation>
    </message>
    <message>
        <source>starts</source>
        <translation>Gangzahl</translation>
    </message>
    <message>
        <source>part in view</source>
        <translation>Teil im Bild</translation>
    </message>
    <message>
        <source>pin beside</source>
        <translation>Stift daneben</translation>
    </message>
    <message>
        <source>year</source>
        <translation>Jahr</translation>
    </message>
</context>
<context>
    <name>GrowthChart</name>
    <message>
        <source>How the answer grew, screw by screw</source>
        <translation>Wie die Antwort wuchs, Schraube um Schraube</translation>
    </message>
    <message>
        <source>screws added, in the order of their positions</source>
        <translation>Schrauben, in der Reihenfolge ihrer Stellen hinzugenommen</translation>
    </message>
</context>
<context>
    <name>Guide</name>
    <message>
        <source>Guide</source>
        <translation>Leitfaden</translation>
    </message>
    <message>
        <source>search the guide</source>
        <translation>Leitfaden durchsuchen</translation>
    </message>
    <message>
        <source>Search the guide</source>
        <translation>Den Leitfaden durchsuchen</translation>
    </message>
    <message>
        <source>Pages of the guide</source>
        <translation>Seiten des Leitfadens</translation>
    </message>
    <message>
        <source>Page of the guide</source>
        <translation>Seite des Leitfadens</translation>
    </message>
    <message>
        <source>Back</source>
        <translation>Zurück</translation>
    </message>
    <message>
        <source>Close</source>
        <translation>Schließen</translation>
    </message>
    <message>
        <source>The pages of the guide were not installed with the program.</source>
        <translation>Die Seiten des Leitfadens wurden nicht mit dem Programm installiert.</translation>
    </message>
    <message>
        <source>These words stand on no page.</source>
        <translation>Diese Wörter stehen auf keiner Seite.</translation>
    </message>
</context>
<context>
    <name>HeadForm</name>
    <message>
        <source>Letterhead</source>
        <translation>Briefkopf</translation>
    </message>
    <message>
        <source>name of the workshop, then address and telephone</source>
        <translation>Name der Werkstatt, dann Anschrift und Telefon</translation>
    </message>
    <message>
        <source>Owner</source>
        <translation>Eigentümer</translation>
    </message>
    <message>
        <source>Keep</source>
        <translation>Behalten</translation>
    </message>
    <message>
        <source>letterhead</source>
        <translation>Briefkopf</translation>
    </message>
    <message>
        <source>owner of the job</source>
        <translation>Eigentümer des Auftrags</translation>
    </message>
    <message>
        <source>reading the register</source>
        <translation>Die Kartei wird gelesen</translation>
    </message>
    <message>
        <source>keeping the letterhead</source>
        <translation>Der Briefkopf wird abgelegt</translation>
    </message>
    <message>
        <source>The letterhead is kept.</source>
        <translation>Der Briefkopf ist abgelegt.</translation>
    </message>
</context>
<context>
    <name>HoleChart</name>
    <message>
        <source>The trials, by the pitch diameter of the screws</source>
        <translation>Die Versuche, nach dem Flankendurchmesser der Schrauben</translation>
    </message>
</context>
<context>
    <name>HoleView</name>
    <message>
        <source>thread of the hole</source>
        <translation>Gewinde des Lochs</translation>
    </message>
    <message>
        <source>engagement</source>
        <translation>Einschraublänge</translation>
    </message>
    <message>
        <source>depth of the hole</source>
        <translation>Tiefe des Lochs</translation>
    </message>
    <message>
        <source>if known</source>
        <translation>wenn bekannt</translation>
    </message>
    <message>
        <source>What the hole is</source>
        <translation>Was das Loch ist</translation>
    </message>
    <message>
        <source>what it is, such as index arm post</source>
        <translation>was es ist, etwa Alhidadenpfosten</translation>
    </message>
    <message>
        <source>Instrument of the hole</source>
        <translation>Instrument des Lochs</translation>
    </message>
    <message>
        <source>instrument</source>
        <translation>Instrument</translation>
    </message>
    <message>
        <source>File this hole</source>
        <translation>Dieses Loch ablegen</translation>
    </message>
    <message>
        <source>Thread</source>
        <translation>Gewinde</translation>
    </message>
    <message>
        <source>engages over</source>
        <translation>trägt auf</translation>
    </message>
    <message>
        <source>depth</source>
        <translation>Tiefe</translation>
    </message>
    <message>
        <source>Say the thread of the hole, such as 4-40 or M2.5.</source>
        <translation>Geben Sie das Gewinde des Lochs an, etwa 4-40 oder M2.5.</translation>
    </message>
    <message>
        <source>It went in</source>
        <translation>Sie ging hinein</translation>
    </message>
    <message>
        <source>It stopped</source>
        <translation>Sie blieb stecken</translation>
    </message>
    <message>
        <source>turns until it stopped</source>
        <translation>Umdrehungen, bis sie steckenblieb</translation>
    </message>
    <message>
        <source>turns</source>
        <translation>Umdr.</translation>
    </message>
    <message>
        <source>It moved</source>
        <translation>Sie bewegte sich</translation>
    </message>
    <message>
        <source>whole movement from side to side</source>
        <translation>ganze Bewegung von Seite zu Seite</translation>
    </message>
    <message>
        <source>overhang from the mouth of the hole</source>
        <translation>Überstand ab der Mündung des Lochs</translation>
    </message>
    <message>
        <source>What the movement was read with</source>
        <translation>Womit die Bewegung abgelesen wurde</translation>
    </message>
    <message>
        <source>ruler</source>
        <translation>Lineal</translation>
    </message>
    <message>
        <source>feeler</source>
        <translation>Fühlerlehre</translation>
    </message>
    <message>
        <source>indicator</source>
        <translation>Messuhr</translation>
    </message>
    <message>
        <source>after</source>
        <translation>nach</translation>
    </message>
    <message>
        <source>from side to side,</source>
        <translation>von Seite zu Seite,</translation>
    </message>
    <message>
        <source>from the mouth, read with</source>
        <translation>vor der Mündung, abgelesen mit</translation>
    </message>
    <message>
        <source>{text} is no number of turns, such as 2.5.</source>
        <translation>{text} ist keine Zahl von Umdrehungen wie 2.5.</translation>
    </message>
    <message>
        <source>movement</source>
        <translation>Bewegung</translation>
    </message>
    <message>
        <source>overhang</source>
        <translation>Überstand</translation>
    </message>
    <message>
        <source>Lay a screw into the replacement&apos;s slot to try it.</source>
        <translation>Legen Sie eine Schraube auf den Platz der Nachfertigung, um sie zu versuchen.</translation>
    </message>
    <message>
        <source>{name} in this hole:</source>
        <translation>{name} in diesem Loch:</translation>
    </message>
    <message>
        <source>File the hole, then say which screws go in: that tells how large it is.</source>
        <translation>Legen Sie das Loch ab und sagen Sie, welche Schrauben hineingehen: Das sagt, wie groß es ist.</translation>
    </message>
    <message>
        <source>{thread}, engaged over {length}: no screw has gone in yet. Try a small one.</source>
        <translation>{thread}, auf {length} im Eingriff: Noch ging keine Schraube hinein. Versuchen Sie eine kleine.</translation>
    </message>
</context>
<context>
    <name>Identity</name>
    <message>
        <source>Identity</source>
        <translation>Identität</translation>
    </message>
    <message>
        <source>no series in the tables</source>
        <translation>keine Reihe in den Tabellen</translation>
    </message>
    <message>
        <source>{mark} limits or sizes from memory, not checked against the printed standard</source>
        <translation>{mark} Grenzen oder Maße aus dem Gedächtnis, nicht an der gedruckten Norm geprüft</translation>
    </message>
    <message>
        <source>(outside its limits)</source>
        <translation>(außerhalb seiner Grenzen)</translation>
    </message>
    <message>
        <source>by measurement alone {share}; {why}</source>
        <translation>nach der Messung allein {share}; {why}</translation>
    </message>
    <message>
        <source>told apart by</source>
        <translation>unterschieden durch</translation>
    </message>
</context>
<context>
    <name>InstrumentChart</name>
    <message>
        <source>Pitch diameters of the instrument&apos;s screws</source>
        <translation>Flankendurchmesser der Schrauben des Instruments</translation>
    </message>
</context>
<context>
    <name>InstrumentView</name>
    <message>
        <source>Instrument sheet…</source>
        <translation>Instrumentenblatt…</translation>
    </message>
    <message>
        <source>Save the charts…</source>
        <translation>Schaubilder speichern…</translation>
    </message>
    <message>
        <source>Tools as a table…</source>
        <translation>Werkzeuge als Tabelle…</translation>
    </message>
    <message>
        <source>Where each part sits: mark it in a picture</source>
        <translation>Wo jedes Teil sitzt: in einem Bild eintragen</translation>
    </message>
    <message>
        <source>What a drawing, a catalogue or a person says</source>
        <translation>Was eine Zeichnung, ein Katalog oder jemand sagt</translation>
    </message>
    <message>
        <source>judging the instrument</source>
        <translation>Das Instrument wird beurteilt</translation>
    </message>
    <message>
        <source>reading pictures</source>
        <translation>Bilder werden gelesen</translation>
    </message>
    <message>
        <source>Choose an instrument on the left</source>
        <translation>Wählen Sie links ein Instrument</translation>
    </message>
    <message>
        <source>Stated: {text}, by {by}; counts {weight} times.</source>
        <translation>Angegeben: {text} ({by}); zählt {weight}-fach.</translation>
    </message>
    <message>
        <source>Odd ones out:</source>
        <translation>Ausreißer:</translation>
    </message>
    <message>
        <source>Still missing:</source>
        <translation>Es fehlt noch:</translation>
    </message>
    <message>
        <source>To have ready, with how many screws each is for:</source>
        <translation>Bereitlegen, mit der Zahl der Schrauben, für die es ist:</translation>
    </message>
    <message>
        <source>statement</source>
        <translation>Angabe</translation>
    </message>
    <message>
        <source>statement taken back</source>
        <translation>Angabe zurückgenommen</translation>
    </message>
    <message>
        <source>The instrument sheet is in {path}.</source>
        <translation>Das Instrumentenblatt liegt in {path}.</translation>
    </message>
    <message>
        <source>making the report</source>
        <translation>Der Bericht wird gemacht</translation>
    </message>
    <message>
        <source>The list of tools is in {path}.</source>
        <translation>Die Werkzeugliste liegt in {path}.</translation>
    </message>
    <message>
        <source>writing the list of tools</source>
        <translation>Die Werkzeugliste wird geschrieben</translation>
    </message>
    <message>
        <source>at hand: {names}</source>
        <translation>vorhanden: {names}</translation>
    </message>
</context>
<context>
    <name>KeyList</name>
    <message>
        <source>List of keys</source>
        <translation>Liste der Tasten</translation>
    </message>
    <message>
        <source>Keys</source>
        <translation>Tasten</translation>
    </message>
    <message>
        <source>Close</source>
        <translation>Schließen</translation>
    </message>
</context>
<context>
    <name>Laying</name>
    <message>
        <source>What to lay where</source>
        <translation>Was wohin gelegt wird</translation>
    </message>
    <message>
        <source>camera</source>
        <translation>Kamera</translation>
    </message>
    <message>
        <source>V-block</source>
        <translation>Prisma</translation>
    </message>
    <message>
        <source>light pad</source>
        <translation>Leuchtfläche</translation>
    </message>
    <message>
        <source>sharp here</source>
        <translation>hier scharf</translation>
    </message>
    <message>
        <source>distance</source>
        <translation>Abstand</translation>
    </message>
    <message>
        <source>mask</source>
        <translation>Blende</translation>
    </message>
    <message>
        <source>one after the other</source>
        <translation>einer nach dem anderen</translation>
    </message>
    <message>
        <source>a pin that you know</source>
        <translation>ein bekannter Stift</translation>
    </message>
    <message>
        <source>the camera&apos;s picture</source>
        <translation>das Bild der Kamera</translation>
    </message>
</context>
<context>
    <name>Leaving</name>
    <message>
        <source>Stay</source>
        <translation>Hier bleiben</translation>
    </message>
    <message>
        <source>One picture in the tray is not on file.</source>
        <translation>Ein Bild im Eingang ist noch nicht im Register.</translation>
    </message>
    <message>
        <source>{count} pictures in the tray are not on file.</source>
        <translation>{count} Bilder im Eingang sind noch nicht im Register.</translation>
    </message>
    <message>
        <source>Keep for next time</source>
        <translation>Bis zum nächsten Mal behalten</translation>
    </message>
    <message>
        <source>Quit without them</source>
        <translation>Ohne sie beenden</translation>
    </message>
</context>
<context>
    <name>Legend</name>
    <message>
        <source>What the lines mean</source>
        <translation>Was die Linien bedeuten</translation>
    </message>
</context>
<context>
    <name>LightForm</name>
    <message>
        <source>not known</source>
        <translation>nicht bekannt</translation>
    </message>
    <message>
        <source>half angle</source>
        <translation>halber Winkel</translation>
    </message>
    <message>
        <source>bright patch and its distance</source>
        <translation>heller Fleck und sein Abstand</translation>
    </message>
    <message>
        <source>What is known of the light</source>
        <translation>Was vom Licht bekannt ist</translation>
    </message>
    <message>
        <source>Half angle under which the part sees the light</source>
        <translation>Halber Winkel, unter dem das Teil das Licht sieht</translation>
    </message>
    <message>
        <source>Diameter of the bright patch</source>
        <translation>Durchmesser des hellen Flecks</translation>
    </message>
    <message>
        <source>How far the patch is behind the part</source>
        <translation>Wie weit der Fleck hinter dem Teil ist</translation>
    </message>
    <message>
        <source>not said</source>
        <translation>nicht gesagt</translation>
    </message>
    <message>
        <source>telecentric</source>
        <translation>telezentrisch</translation>
    </message>
    <message>
        <source>at a distance from the gauges</source>
        <translation>in einem Abstand von den Normalen</translation>
    </message>
    <message>
        <source>What is known of the lens</source>
        <translation>Was vom Objektiv bekannt ist</translation>
    </message>
    <message>
        <source>Distance from lens to gauges</source>
        <translation>Abstand vom Objektiv zu den Normalen</translation>
    </message>
    <message>
        <source>A near lens shows a round pin too large: U95 allows for one {distance} mm away. Measure from the front of the lens to the gauges, and say so here.</source>
        <translation>Ein nahes Objektiv zeigt einen runden Stift zu groß: U95 lässt eines in {distance} mm Abstand zu. Messen Sie von der Vorderseite des Objektivs bis zu den Normalen, und geben Sie es hier an.</translation>
    </message>
    <message>
        <source>Numerical aperture of the lens at the part</source>
        <translation>Numerische Apertur des Objektivs am Teil</translation>
    </message>
    <message>
        <source>Numerical aperture at the part: m / (2 N (1 + m)) for f-number N and magnification m</source>
        <translation>Numerische Apertur am Teil: m / (2 N (1 + m)) bei Blendenzahl N und Abbildungsmaßstab m</translation>
    </message>
    <message>
        <source>Focus locked</source>
        <translation>Schärfe festgestellt</translation>
    </message>
    <message>
        <source>The focus was set before the first gauge and stays as it is</source>
        <translation>Die Schärfe wurde vor dem ersten Normal eingestellt und bleibt, wie sie ist</translation>
    </message>
    <message>
        <source>A camera that focuses by itself changes the scale: U95 allows for {percent} % of every length. Lay a pin beside each part, or lock the focus before the first gauge and tick this.</source>
        <translation>Eine Kamera, die von selbst scharf stellt, ändert den Maßstab: U95 lässt dafür {percent} % jeder Länge zu. Legen Sie einen Stift neben jedes Teil, oder stellen Sie die Schärfe vor dem ersten Normal fest und haken Sie dies an.</translation>
    </message>
    <message>
        <source>Light cone</source>
        <translation>Lichtkegel</translation>
    </message>
    <message>
        <source>Half angle</source>
        <translation>Halber Winkel</translation>
    </message>
    <message>
        <source>Patch</source>
        <translation>Fleck</translation>
    </message>
    <message>
        <source>Behind the part</source>
        <translation>Hinter dem Teil</translation>
    </message>
    <message>
        <source>Lens</source>
        <translation>Objektiv</translation>
    </message>
    <message>
        <source>Distance</source>
        <translation>Abstand</translation>
    </message>
    <message>
        <source>Opening</source>
        <translation>Öffnung</translation>
    </message>
    <message>
        <source>Not known: up to {cone}° is allowed for, ± {u95} µm on the pitch diameter of a thread of {size} mm. Mask the pad to a small patch far behind the part, and say so here.</source>
        <translation>Nicht bekannt: Bis {cone}° ist eingerechnet, ± {u95} µm am Flankendurchmesser eines Gewindes von {size} mm. Decken Sie die Leuchtfläche bis auf einen kleinen Fleck weit hinter dem Teil ab und geben Sie das hier an.</translation>
    </message>
    <message>
        <source>Half cone {cone}°: mirrored light takes {taken} µm from a polished thread of {size} mm. It is put right: ± {bright} µm of U95 remain where the surface is said to be bright, ± {u95} µm where it is not said.</source>
        <translation>Halbkegel {cone}°: Gespiegeltes Licht nimmt einem polierten Gewinde von {size} mm {taken} µm. Das wird berichtigt: Es bleiben ± {bright} µm U95, wo die Oberfläche als blank angegeben ist, ± {u95} µm, wo nichts angegeben ist.</translation>
    </message>
</context>
<context>
    <name>LimitBar</name>
    <message>
        <source>Place between the limits</source>
        <translation>Lage zwischen den Grenzen</translation>
    </message>
</context>
<context>
    <name>LiveNumbers</name>
    <message>
        <source>Measure all the same</source>
        <translation>Trotzdem messen</translation>
    </message>
    <message>
        <source>Pitch</source>
        <translation>Steigung</translation>
    </message>
    <message>
        <source>Major diameter</source>
        <translation>Außendurchmesser</translation>
    </message>
    <message>
        <source>Pitch diameter</source>
        <translation>Flankendurchmesser</translation>
    </message>
    <message>
        <source>Minor diameter</source>
        <translation>Kerndurchmesser</translation>
    </message>
    <message>
        <source>Turn the part slowly in its block: run-out and ovality are drawn here. Lay down the next one: it is noticed by itself.</source>
        <translation>Drehen Sie das Teil langsam in seinem Prisma: Rundlauf und Ovalität werden hier gezeichnet. Legen Sie das nächste hin: Es wird von selbst bemerkt.</translation>
    </message>
    <message>
        <source>Daily check (V)</source>
        <translation>Tägliche Prüfung (V)</translation>
    </message>
    <message>
        <source>Whether the calibration still holds</source>
        <translation>Ob die Kalibrierung noch gilt</translation>
    </message>
    <message>
        <source>Calibration</source>
        <translation>Kalibrierung</translation>
    </message>
    <message>
        <source>The calibration in use</source>
        <translation>Die benutzte Kalibrierung</translation>
    </message>
    <message>
        <source>Live numbers</source>
        <translation>Laufende Messung</translation>
    </message>
    <message>
        <source>Lay a part down: it is measured by itself.</source>
        <translation>Legen Sie ein Teil hin: Es wird von selbst gemessen.</translation>
    </message>
    <message>
        <source>Part {number}, mean of {frames} frames</source>
        <translation>Teil {number}, Mittel aus {frames} Bildern</translation>
    </message>
    <message>
        <source>Part {number}, moving</source>
        <translation>Teil {number}, in Bewegung</translation>
    </message>
    <message>
        <source>Noise has ± {noise} µm of the ± {whole} µm of the pitch diameter: it falls while the part lies still. The ± {steady} µm of bench, light and form stay.</source>
        <translation>Auf das Rauschen entfallen ± {noise} µm von den ± {whole} µm des Flankendurchmessers: Es sinkt, solange das Teil still liegt. Die ± {steady} µm von Messplatz, Licht und Form bleiben.</translation>
    </message>
    <message>
        <source>turn it farther</source>
        <translation>weiter drehen</translation>
    </message>
    <message>
        <source>Ovality: {ovality}. Run-out: {run_out}. Seen from {sides} sides.</source>
        <translation>Ovalität: {ovality}. Rundlauf: {run_out}. Von {sides} Seiten gesehen.</translation>
    </message>
    <message>
        <source>The part before it had {was}: this one differs by {difference}.</source>
        <translation>Das Teil davor hatte {was}: Dieses weicht um {difference} ab.</translation>
    </message>
</context>
<context>
    <name>Looseness</name>
    <message>
        <source>The screw in its hole</source>
        <translation>Die Schraube in ihrem Loch</translation>
    </message>
</context>
<context>
    <name>MakeWith</name>
    <message>
        <source>What to make it with</source>
        <translation>Womit es gemacht wird</translation>
    </message>
    <message>
        <source>More cautions</source>
        <translation>Weitere Hinweise zur Vorsicht</translation>
    </message>
</context>
<context>
    <name>MapForm</name>
    <message>
        <source>Position that is marked next</source>
        <translation>Stelle, die als nächste eingetragen wird</translation>
    </message>
    <message>
        <source>Open a picture of it…</source>
        <translation>Bild davon öffnen…</translation>
    </message>
    <message>
        <source>reading the register</source>
        <translation>Die Kartei wird gelesen</translation>
    </message>
    <message>
        <source>Pictures</source>
        <translation>Bilder</translation>
    </message>
    <message>
        <source>A picture of the whole instrument</source>
        <translation>Ein Bild des ganzen Instruments</translation>
    </message>
    <message>
        <source>reading the picture</source>
        <translation>Das Bild wird gelesen</translation>
    </message>
    <message>
        <source>Open a picture of the whole instrument; then click where each position is.</source>
        <translation>Öffnen Sie ein Bild des ganzen Instruments; klicken Sie dann, wo jede Stelle ist.</translation>
    </message>
    <message>
        <source>Click in the picture where the position above is.</source>
        <translation>Klicken Sie im Bild, wo die Stelle oben ist.</translation>
    </message>
    <message>
        <source>position on the map</source>
        <translation>Stelle auf der Karte</translation>
    </message>
</context>
<context>
    <name>MapPicture</name>
    <message>
        <source>Picture of the instrument</source>
        <translation>Bild des Instruments</translation>
    </message>
</context>
<context>
    <name>Measuring</name>
    <message>
        <source>weighing the series</source>
        <translation>Die Reihen werden abgewogen</translation>
    </message>
    <message>
        <source>measuring {name}</source>
        <translation>{name} wird gemessen</translation>
    </message>
    <message>
        <source>showing the picture</source>
        <translation>Das Bild wird gezeigt</translation>
    </message>
</context>
<context>
    <name>Notice</name>
    <message>
        <source>Message</source>
        <translation>Meldung</translation>
    </message>
    <message>
        <source>Open it</source>
        <translation>Öffnen</translation>
    </message>
    <message>
        <source>Close</source>
        <translation>Schließen</translation>
    </message>
    <message>
        <source>Close the message</source>
        <translation>Die Meldung schließen</translation>
    </message>
    <message>
        <source>Warning</source>
        <translation>Warnung</translation>
    </message>
    <message>
        <source>Refused</source>
        <translation>Abgelehnt</translation>
    </message>
</context>
<context>
    <name>Paper</name>
    <message>
        <source>Paper</source>
        <translation>Papier</translation>
    </message>
    <message>
        <source>Preview of the report</source>
        <translation>Vorschau des Berichts</translation>
    </message>
    <message>
        <source>from label </source>
        <translation>ab Etikett </translation>
    </message>
    <message>
        <source>Print…</source>
        <translation>Drucken…</translation>
    </message>
    <message>
        <source>Report of a job</source>
        <translation>Bericht eines Auftrags</translation>
    </message>
    <message>
        <source>Data sheet of a part</source>
        <translation>Datenblatt eines Teils</translation>
    </message>
    <message>
        <source>Labels</source>
        <translation>Etiketten</translation>
    </message>
    <message>
        <source>Drawing to make a part again</source>
        <translation>Zeichnung zum Nachfertigen</translation>
    </message>
    <message>
        <source>Map of an instrument</source>
        <translation>Karte eines Instruments</translation>
    </message>
    <message>
        <source>Sheet of an instrument</source>
        <translation>Blatt eines Instruments</translation>
    </message>
    <message>
        <source>Sheet of a tray</source>
        <translation>Blatt einer Schale</translation>
    </message>
    <message>
        <source>Sheet of dies and taps</source>
        <translation>Blatt der Schneideisen</translation>
    </message>
    <message>
        <source>What is printed</source>
        <translation>Was gedruckt wird</translation>
    </message>
    <message>
        <source>About which job, part or instrument</source>
        <translation>Über welchen Auftrag, welches Teil oder Instrument</translation>
    </message>
    <message>
        <source>Size of labels, or what a drawing is made to fit</source>
        <translation>Größe der Etiketten, oder wozu eine Zeichnung passen soll</translation>
    </message>
    <message>
        <source>The first label that is not used up</source>
        <translation>Das erste Etikett, das noch nicht verbraucht ist</translation>
    </message>
    <message>
        <source>Letterhead, and whose the job is</source>
        <translation>Briefkopf, und wessen Auftrag es ist</translation>
    </message>
    <message>
        <source>all of the workshop</source>
        <translation>alle der Werkstatt</translation>
    </message>
    <message>
        <source>roll: {size}</source>
        <translation>Rolle: {size}</translation>
    </message>
    <message>
        <source>limits of its class</source>
        <translation>Grenzmaße seiner Klasse</translation>
    </message>
    <message>
        <source>to fit hole {number}: {words}</source>
        <translation>passend zu Loch {number}: {words}</translation>
    </message>
    <message>
        <source>reading the register</source>
        <translation>Die Kartei wird gelesen</translation>
    </message>
    <message>
        <source>page {number} of {count}</source>
        <translation>Seite {number} von {count}</translation>
    </message>
    <message>
        <source>making the report</source>
        <translation>Der Bericht wird gemacht</translation>
    </message>
    <message>
        <source>{count} pages went to the printer.</source>
        <translation>{count} Seiten gingen an den Drucker.</translation>
    </message>
    <message>
        <source>Unit of the report</source>
        <translation>Einheit des Berichts</translation>
    </message>
    <message>
        <source>Save…</source>
        <translation>Sichern…</translation>
    </message>
    <message>
        <source>Choose a part in the list: the paper is about it.</source>
        <translation>Wählen Sie ein Teil in der Liste: Das Blatt handelt davon.</translation>
    </message>
    <message>
        <source>A report is made of a job. Name one in the strip when you file a part.</source>
        <translation>Ein Bericht wird von einem Auftrag gemacht. Nennen Sie einen im Streifen, wenn Sie ein Teil ablegen.</translation>
    </message>
    <message>
        <source>Web page</source>
        <translation>Webseite</translation>
    </message>
    <message>
        <source>Drawing for machines</source>
        <translation>Zeichnung für Maschinen</translation>
    </message>
    <message>
        <source>Save the report</source>
        <translation>Den Bericht sichern</translation>
    </message>
    <message>
        <source>The report of {count} parts is in {path}.</source>
        <translation>Der Bericht über {count} Teile liegt in {path}.</translation>
    </message>
    <message>
        <source>It is in {path}.</source>
        <translation>Es liegt in {path}.</translation>
    </message>
    <message>
        <source>No type on this machine has these letters, their codes stand for them: {letters}</source>
        <translation>Keine Schrift auf diesem Rechner hat diese Zeichen, ihre Nummern stehen für sie: {letters}</translation>
    </message>
</context>
<context>
    <name>PartPanel</name>
    <message>
        <source>Original in Fit</source>
        <translation>Original in Passung</translation>
    </message>
    <message>
        <source>Withdraw</source>
        <translation>Zurückziehen</translation>
    </message>
    <message>
        <source>reading the picture</source>
        <translation>Das Bild wird gelesen</translation>
    </message>
    <message>
        <source>A {thread} hole in which no screw has gone in yet.</source>
        <translation>Ein Loch {thread}, in das noch keine Schraube hineinging.</translation>
    </message>
    <message>
        <source>Hole in Fit</source>
        <translation>Loch in Passung</translation>
    </message>
    <message>
        <source>Bring it back</source>
        <translation>Zurückholen</translation>
    </message>
    <message>
        <source>reading the bench</source>
        <translation>Der Messplatz wird gelesen</translation>
    </message>
    <message>
        <source>another name</source>
        <translation>ein anderer Name</translation>
    </message>
    <message>
        <source>On which instrument is that position?</source>
        <translation>An welchem Instrument ist diese Stelle?</translation>
    </message>
    <message>
        <source>belongs elsewhere</source>
        <translation>gehört woanders hin</translation>
    </message>
    <message>
        <source>reading part {number}</source>
        <translation>Teil {number} wird gelesen</translation>
    </message>
    <message>
        <source>Choose a part</source>
        <translation>Wählen Sie ein Teil</translation>
    </message>
    <message>
        <source>part {number}</source>
        <translation>Teil {number}</translation>
    </message>
    <message>
        <source>It was not measured.</source>
        <translation>Es wurde nicht gemessen.</translation>
    </message>
    <message>
        <source>Open</source>
        <translation>Öffnen</translation>
    </message>
    <message>
        <source>Measured with the calibration that it was filed with, not with the one in use.</source>
        <translation>Mit der Kalibrierung gemessen, mit der es abgelegt wurde, nicht mit der jetzt verwendeten.</translation>
    </message>
    <message>
        <source>part withdrawn</source>
        <translation>Teil zurückgezogen</translation>
    </message>
    <message>
        <source>part brought back</source>
        <translation>Teil zurückgeholt</translation>
    </message>
    <message>
        <source>note</source>
        <translation>Notiz</translation>
    </message>
    <message>
        <source>replacement made</source>
        <translation>Ersatz gemacht</translation>
    </message>
</context>
<context>
    <name>PartPicture</name>
    <message>
        <source>End of the threaded length: drag it</source>
        <translation>Ende der Gewindelänge: ziehen Sie es</translation>
    </message>
</context>
<context>
    <name>PartPlace</name>
    <message>
        <source>Picture of the part</source>
        <translation>Bild des Teils</translation>
    </message>
    <message>
        <source>end of the thread</source>
        <translation>Ende des Gewindes</translation>
    </message>
    <message>
        <source>Every ridge folded onto one</source>
        <translation>Alle Gänge auf einen gefaltet</translation>
    </message>
    <message>
        <source>statement taken back</source>
        <translation>Angabe zurückgenommen</translation>
    </message>
    <message>
        <source>Numbers of the thread that was clicked on</source>
        <translation>Zahlen des angeklickten Gangs</translation>
    </message>
    <message>
        <source>Counted from the free end. U95 is against the other threads; the flank angles are those of all</source>
        <translation>Gezählt vom freien Ende. U95 gilt gegen die anderen Gänge; die Flankenwinkel sind die aller Gänge</translation>
    </message>
    <message>
        <source>Why numbers are doubtful</source>
        <translation>Warum Zahlen zweifelhaft sind</translation>
    </message>
    <message>
        <source>No part on the bench. Open a picture (Ctrl+O), drop one here, or take one at the bench (Ctrl+1).</source>
        <translation>Kein Teil auf dem Messplatz. Öffnen Sie ein Bild (Strg+O), legen Sie eines hier ab, oder nehmen Sie eines am Messplatz auf (Strg+1).</translation>
    </message>
    <message>
        <source>One thread</source>
        <translation>Ein Gang</translation>
    </message>
    <message>
        <source>Thread by thread</source>
        <translation>Gang für Gang</translation>
    </message>
    <message>
        <source>Magnified</source>
        <translation>Vergrößert</translation>
    </message>
    <message>
        <source>Budget</source>
        <translation>Budget</translation>
    </message>
    <message>
        <source>Whole part</source>
        <translation>Ganzes Teil</translation>
    </message>
    <message>
        <source>What is to be doubted before anything is measured</source>
        <translation>Was zu bezweifeln ist, bevor gemessen wird</translation>
    </message>
    <message>
        <source>Candidates, and what tells them apart</source>
        <translation>Mögliche Gewinde, und was sie unterscheidet</translation>
    </message>
    <message>
        <source>Name, series, hand, starts</source>
        <translation>Name, Reihe, Drehsinn, Gangzahl</translation>
    </message>
    <message>
        <source>What a drawing, a catalogue or a person says</source>
        <translation>Was eine Zeichnung, ein Katalog oder jemand sagt</translation>
    </message>
    <message>
        <source>Leave a place out</source>
        <translation>Eine Stelle auslassen</translation>
    </message>
    <message>
        <source>Draw a rectangle over a burr or a speck: the outline there does not count</source>
        <translation>Ziehen Sie ein Rechteck über einen Grat oder ein Stäubchen: Der Umriss dort zählt nicht</translation>
    </message>
    <message>
        <source>Reset to automatic</source>
        <translation>Auf Automatik zurücksetzen</translation>
    </message>
    <message>
        <source>Copy the numbers as a table</source>
        <translation>Die Zahlen als Tabelle kopieren</translation>
    </message>
    <message>
        <source>Compare with the last one</source>
        <translation>Mit dem letzten vergleichen</translation>
    </message>
    <message>
        <source>No calibration is in use: calibrate the bench, or open a calibration, and this picture is measured.</source>
        <translation>Es wird keine Kalibrierung verwendet: Kalibrieren Sie den Messplatz oder öffnen Sie eine Kalibrierung, dann wird dieses Bild gemessen.</translation>
    </message>
    <message>
        <source>statement</source>
        <translation>Angabe</translation>
    </message>
    <message>
        <source>Thread {number}, {edge}: pitch error {error}, pitch diameter {diameter}; flanks {left} and {right}</source>
        <translation>Gang {number}, {edge}: Steigungsfehler {error}, Flankendurchmesser {diameter}; Flanken {left} und {right}</translation>
    </message>
    <message>
        <source>Flank magnified</source>
        <translation>Flanke vergrößert</translation>
    </message>
    <message>
        <source>File this part</source>
        <translation>Dieses Teil ins Register</translation>
    </message>
    <message>
        <source>Save a figure…</source>
        <translation>Abbildung sichern…</translation>
    </message>
    <message>
        <source>Copy the findings</source>
        <translation>Befund kopieren</translation>
    </message>
    <message>
        <source>Next view below the picture</source>
        <translation>Nächste Ansicht unter dem Bild</translation>
    </message>
    <message>
        <source>Use as the original in Fit</source>
        <translation>Als Original in Passung verwenden</translation>
    </message>
    <message>
        <source>{count} remarks on this picture</source>
        <translation>{count} Bemerkungen zu diesem Bild</translation>
    </message>
    <message>
        <source>{name} is being measured…</source>
        <translation>{name} wird gemessen …</translation>
    </message>
    <message>
        <source>reading the register</source>
        <translation>Die Kartei wird gelesen</translation>
    </message>
    <message>
        <source>place left out</source>
        <translation>Stelle ausgelassen</translation>
    </message>
    <message>
        <source>as found</source>
        <translation>wie gefunden</translation>
    </message>
    <message>
        <source>part in view</source>
        <translation>Teil im Bild</translation>
    </message>
    <message>
        <source>looking for parts</source>
        <translation>Teile werden gesucht</translation>
    </message>
    <message>
        <source>upper edge</source>
        <translation>obere Kante</translation>
    </message>
    <message>
        <source>lower edge</source>
        <translation>untere Kante</translation>
    </message>
    <message>
        <source>No other measured part is in the tray.</source>
        <translation>In der Ablage liegt kein anderes gemessenes Teil.</translation>
    </message>
    <message>
        <source>The numbers are on the clipboard, as a table.</source>
        <translation>Die Zahlen sind als Tabelle in der Zwischenablage.</translation>
    </message>
    <message>
        <source>The findings are on the clipboard.</source>
        <translation>Der Befund ist in der Zwischenablage.</translation>
    </message>
</context>
<context>
    <name>PartsList</name>
    <message>
        <source>Parts on file</source>
        <translation>Abgelegte Teile</translation>
    </message>
</context>
<context>
    <name>PartsModel</name>
    <message>
        <source>part {number}</source>
        <translation>Teil {number}</translation>
    </message>
    <message>
        <source>{name} (withdrawn)</source>
        <translation>{name} (zurückgezogen)</translation>
    </message>
    <message>
        <source>pitch dia. {size}</source>
        <translation>Flanken-⌀ {size}</translation>
    </message>
    <message>
        <source>hole, {thread}</source>
        <translation>Loch, {thread}</translation>
    </message>
    <message>
        <source>reading pictures</source>
        <translation>Bilder werden gelesen</translation>
    </message>
    <message>
        <source>searching the register</source>
        <translation>Die Kartei wird durchsucht</translation>
    </message>
</context>
<context>
    <name>Places</name>
    <message>
        <source>Instruments and jobs</source>
        <translation>Instrumente und Aufträge</translation>
    </message>
    <message>
        <source>all parts  ({count})</source>
        <translation>alle Teile  ({count})</translation>
    </message>
    <message>
        <source>instruments</source>
        <translation>Instrumente</translation>
    </message>
    <message>
        <source>jobs</source>
        <translation>Aufträge</translation>
    </message>
    <message>
        <source>reading the positions</source>
        <translation>Die Stellen werden gelesen</translation>
    </message>
    <message>
        <source>(none yet)</source>
        <translation>(noch keines)</translation>
    </message>
</context>
<context>
    <name>PlayView</name>
    <message>
        <source>engagement</source>
        <translation>Einschraublänge</translation>
    </message>
    <message>
        <source>overhang</source>
        <translation>Überstand</translation>
    </message>
    <message>
        <source>this screw</source>
        <translation>diese Schraube</translation>
    </message>
    <message>
        <source>compared with</source>
        <translation>verglichen mit</translation>
    </message>
    <message>
        <source>Play</source>
        <translation>Spiel</translation>
    </message>
    <message>
        <source>{what}, with its unit</source>
        <translation>{what}, mit Einheit</translation>
    </message>
    <message>
        <source>Lay a screw into its slot and say what the hole is.</source>
        <translation>Legen Sie eine Schraube in ihr Feld und sagen Sie, was das Loch ist.</translation>
    </message>
    <message>
        <source>Proportions are true; the play is drawn {times} times as large.</source>
        <translation>Die Verhältnisse stimmen; das Spiel ist {times}-mal so groß gezeichnet.</translation>
    </message>
    <message>
        <source>Proportions are true.</source>
        <translation>Die Verhältnisse stimmen.</translation>
    </message>
    <message>
        <source>It will not enter the hole.</source>
        <translation>Sie geht nicht in das Loch.</translation>
    </message>
    <message>
        <source>It may not enter the hole: it does in {share}.</source>
        <translation>Sie geht vielleicht nicht in das Loch: Sie tut es in {share}.</translation>
    </message>
    <message>
        <source>It enters the hole.</source>
        <translation>Sie geht in das Loch.</translation>
    </message>
    <message>
        <source>radial clearance</source>
        <translation>radiales Spiel</translation>
    </message>
    <message>
        <source>axial backlash</source>
        <translation>axiales Spiel</translation>
    </message>
    <message>
        <source>tilt</source>
        <translation>Neigung</translation>
    </message>
    <message>
        <source>movement of the end</source>
        <translation>Bewegung des Endes</translation>
    </message>
    <message>
        <source>enters</source>
        <translation>geht hinein</translation>
    </message>
    <message>
        <source>as cut</source>
        <translation>wie geschnitten</translation>
    </message>
</context>
<context>
    <name>Question</name>
    <message>
        <source>Do not file it</source>
        <translation>Nicht ablegen</translation>
    </message>
</context>
<context>
    <name>RegisterPlace</name>
    <message>
        <source>search: words, numbers, sizes</source>
        <translation>Suche: Wörter, Nummern, Größen</translation>
    </message>
    <message>
        <source>Search the register</source>
        <translation>Die Kartei durchsuchen</translation>
    </message>
    <message>
        <source>Search</source>
        <translation>Suchen</translation>
    </message>
    <message>
        <source>Narrow the list down</source>
        <translation>Die Liste einengen</translation>
    </message>
    <message>
        <source>Next part: where does it belong</source>
        <translation>Nächstes Teil: wohin gehört es</translation>
    </message>
    <message>
        <source>File it once more</source>
        <translation>Noch einmal ins Register</translation>
    </message>
    <message>
        <source>Take the last one back</source>
        <translation>Das letzte zurücknehmen</translation>
    </message>
    <message>
        <source>Parts like the one on the bench</source>
        <translation>Teile wie das auf dem Messplatz</translation>
    </message>
    <message>
        <source>The chosen part</source>
        <translation>Das gewählte Teil</translation>
    </message>
    <message>
        <source>The chosen instrument</source>
        <translation>Das gewählte Instrument</translation>
    </message>
    <message>
        <source>Question in the strip: the first answer</source>
        <translation>Frage im Streifen: die erste Antwort</translation>
    </message>
    <message>
        <source>Question in the strip: the second answer</source>
        <translation>Frage im Streifen: die zweite Antwort</translation>
    </message>
    <message>
        <source>Question in the strip: do not file it</source>
        <translation>Frage im Streifen: nicht ablegen</translation>
    </message>
    <message>
        <source>Nothing is on file yet.

1   Take or open the picture of a part.
2   Say above which instrument it is from and where it belongs, such as index arm 1.
3   Press Enter: picture, sizes and identity are filed together.

The strip counts on to index arm 2 by itself: take the next picture, press Enter.</source>
        <translation>Noch ist nichts abgelegt.

1   Nehmen Sie das Bild eines Teils auf oder öffnen Sie eines.
2   Sagen Sie oben, von welchem Instrument es ist und wohin es gehört, etwa Zeigerarm 1.
3   Drücken Sie die Eingabetaste: Bild, Maße und Identität werden zusammen abgelegt.

Der Streifen zählt von selbst weiter zu Zeigerarm 2: das nächste Bild aufnehmen, Eingabetaste drücken.</translation>
    </message>
    <message>
        <source>Narrow down</source>
        <translation>Einengen</translation>
    </message>
    <message>
        <source>Like the one on the bench</source>
        <translation>Wie das auf dem Messplatz</translation>
    </message>
    <message>
        <source>The part</source>
        <translation>Das Teil</translation>
    </message>
    <message>
        <source>The instrument</source>
        <translation>Das Instrument</translation>
    </message>
    <message>
        <source>reading the register</source>
        <translation>Die Kartei wird gelesen</translation>
    </message>
    <message>
        <source>{name} on file</source>
        <translation>{name} abgelegt</translation>
    </message>
    <message>
        <source>{count} parts on file</source>
        <translation>{count} Teile eingetragen</translation>
    </message>
    <message>
        <source>taking it back</source>
        <translation>Es wird zurückgenommen</translation>
    </message>
    <message>
        <source>{count} parts</source>
        <translation>{count} Teile</translation>
    </message>
    <message>
        <source>Print and export</source>
        <translation>Drucken und exportieren</translation>
    </message>
    <message>
        <source>one part</source>
        <translation>ein Teil</translation>
    </message>
    <message>
        <source>No part on file fits what is asked for.</source>
        <translation>Kein abgelegtes Teil passt zu dem, was gefragt ist.</translation>
    </message>
    <message>
        <source>There is no measured part on the bench to compare with.</source>
        <translation>Auf dem Messplatz liegt kein gemessenes Teil zum Vergleichen.</translation>
    </message>
    <message>
        <source>looking for parts like it</source>
        <translation>Ähnliche Teile werden gesucht</translation>
    </message>
    <message>
        <source>No measured part is on file.</source>
        <translation>Kein gemessenes Teil ist abgelegt.</translation>
    </message>
</context>
<context>
    <name>ResidualChart</name>
    <message>
        <source>Residual of each gauge</source>
        <translation>Rest jedes Normals</translation>
    </message>
</context>
<context>
    <name>Residuals</name>
    <message>
        <source>Edge points off the fitted thread</source>
        <translation>Kantenpunkte neben dem angepassten Gewinde</translation>
    </message>
    <message>
        <source>along the thread, from its middle toward the free end, mm</source>
        <translation>längs des Gewindes, von seiner Mitte zum freien Ende, mm</translation>
    </message>
    <message>
        <source>the fitted thread; magnified {times} times across</source>
        <translation>das angepasste Gewinde; quer {times}-mal vergrößert</translation>
    </message>
    <message>
        <source>off the thread, {unit}</source>
        <translation>neben dem Gewinde, {unit}</translation>
    </message>
</context>
<context>
    <name>ScaleByHand</name>
    <message>
        <source>Size of one pixel in the plane of the part</source>
        <translation>Größe eines Pixels in der Ebene des Teils</translation>
    </message>
    <message>
        <source>Use this scale</source>
        <translation>Diesen Maßstab verwenden</translation>
    </message>
    <message>
        <source>Back</source>
        <translation>Zurück</translation>
    </message>
    <message>
        <source>No gauge stands behind such a scale. It is taken to be known to 0.2 % and the edges to 0.3 px (U95): enough to tell coarse threads apart, never to tell standards apart. Lay down two pins when you can.</source>
        <translation>Hinter einem solchen Maßstab steht kein Normal. Er gilt als auf 0,2 % und die Kanten als auf 0,3 px bekannt (U95): genug, um grobe Gewinde zu unterscheiden, nie, um Normen zu unterscheiden. Legen Sie zwei Stifte auf, sobald Sie können.</translation>
    </message>
    <message>
        <source>A scale by hand</source>
        <translation>Ein Maßstab von Hand</translation>
    </message>
    <message>
        <source>One pixel is</source>
        <translation>Ein Pixel ist</translation>
    </message>
    <message>
        <source>A pixel of {size} µm is not credible. Check the unit.</source>
        <translation>Ein Pixel von {size} µm ist nicht glaubhaft. Prüfen Sie die Einheit.</translation>
    </message>
</context>
<context>
    <name>SectionsTable</name>
    <message>
        <source>section</source>
        <translation>Abschnitt</translation>
    </message>
    <message>
        <source>from</source>
        <translation>ab</translation>
    </message>
    <message>
        <source>length</source>
        <translation>Länge</translation>
    </message>
    <message>
        <source>diameter</source>
        <translation>Durchmesser</translation>
    </message>
    <message>
        <source>more</source>
        <translation>weiteres</translation>
    </message>
    <message>
        <source>Sections of the part</source>
        <translation>Abschnitte des Teils</translation>
    </message>
    <message>
        <source>The diameters of the thread hold {place} from the free end, in the middle of it.</source>
        <translation>Die Durchmesser des Gewindes gelten {place} vom freien Ende, in seiner Mitte.</translation>
    </message>
    <message>
        <source>cut off</source>
        <translation>abgeschnitten</translation>
    </message>
</context>
<context>
    <name>SetRight</name>
    <message>
        <source>what it is</source>
        <translation>was es ist</translation>
    </message>
    <message>
        <source>instrument</source>
        <translation>Instrument</translation>
    </message>
    <message>
        <source>position</source>
        <translation>Stelle</translation>
    </message>
    <message>
        <source>job</source>
        <translation>Auftrag</translation>
    </message>
    <message>
        <source>what is to be remembered</source>
        <translation>was man sich merken soll</translation>
    </message>
    <message>
        <source>die</source>
        <translation>Schneideisen</translation>
    </message>
    <message>
        <source>setting</source>
        <translation>Einstellung</translation>
    </message>
    <message>
        <source>stock</source>
        <translation>Material</translation>
    </message>
    <message>
        <source>Name</source>
        <translation>Name</translation>
    </message>
    <message>
        <source>Belongs to</source>
        <translation>Gehört zu</translation>
    </message>
    <message>
        <source>Note</source>
        <translation>Notiz</translation>
    </message>
    <message>
        <source>Replaced with</source>
        <translation>Ersetzt mit</translation>
    </message>
</context>
<context>
    <name>Shown</name>
    <message>
        <source>Live picture</source>
        <translation>Lebendes Bild</translation>
    </message>
    <message>
        <source>{name}: no picture comes any more</source>
        <translation>{name}: Es kommt kein Bild mehr</translation>
    </message>
    <message>
        <source>showing the picture</source>
        <translation>Das Bild wird gezeigt</translation>
    </message>
    <message>
        <source>The edges found in {name}</source>
        <translation>Die in {name} gefundenen Kanten</translation>
    </message>
    <message>
        <source>The next picture that comes into this folder is measured:
{name}</source>
        <translation>Das nächste Bild, das in diesen Ordner kommt, wird gemessen:
{name}</translation>
    </message>
    <message>
        <source>No live picture.

Choose a camera above, or open a picture (Ctrl+O), drop one here or paste it (Ctrl+V).</source>
        <translation>Kein lebendes Bild.

Wählen Sie oben eine Kamera, oder öffnen Sie ein Bild (Strg+O), legen Sie eines hier ab oder fügen Sie es ein (Strg+V).</translation>
    </message>
    <message>
        <source>The last picture: {name}</source>
        <translation>Das letzte Bild: {name}</translation>
    </message>
</context>
<context>
    <name>ShownPicture</name>
    <message>
        <source>Picture of the part on file</source>
        <translation>Bild des abgelegten Teils</translation>
    </message>
</context>
<context>
    <name>SignCard</name>
    <message>
        <source>No live picture.</source>
        <translation>Kein lebendes Bild.</translation>
    </message>
    <message>
        <source>good</source>
        <translation>gut</translation>
    </message>
    <message>
        <source>change</source>
        <translation>ändern</translation>
    </message>
</context>
<context>
    <name>Signs</name>
    <message>
        <source>Light</source>
        <translation>Licht</translation>
    </message>
    <message>
        <source>Focus</source>
        <translation>Schärfe</translation>
    </message>
    <message>
        <source>Alignment</source>
        <translation>Lage</translation>
    </message>
    <message>
        <source>No live picture.</source>
        <translation>Kein lebendes Bild.</translation>
    </message>
</context>
<context>
    <name>Slot</name>
    <message>
        <source>Class of the hole</source>
        <translation>Klasse des Lochs</translation>
    </message>
    <message>
        <source>{slot}: a part at hand</source>
        <translation>{slot}: ein Teil zur Hand</translation>
    </message>
    <message>
        <source>part no.</source>
        <translation>Teil-Nr.</translation>
    </message>
    <message>
        <source>{slot}: number of a part on file</source>
        <translation>{slot}: Nummer eines abgelegten Teils</translation>
    </message>
    <message>
        <source>Cast…</source>
        <translation>Abguss…</translation>
    </message>
    <message>
        <source>File…</source>
        <translation>Datei…</translation>
    </message>
    <message>
        <source>Hole: from the picture of a cast</source>
        <translation>Loch: aus dem Bild eines Abgusses</translation>
    </message>
    <message>
        <source>{slot}: from a picture file</source>
        <translation>{slot}: aus einer Bilddatei</translation>
    </message>
    <message>
        <source>With its U95 if you know it: {example}</source>
        <translation>Mit seiner U95, wenn Sie sie kennen: {example}</translation>
    </message>
    <message>
        <source>the cast shrank by</source>
        <translation>der Abguss schrumpfte um</translation>
    </message>
    <message>
        <source>major {value}</source>
        <translation>außen {value}</translation>
    </message>
    <message>
        <source>pitch {value}</source>
        <translation>Steigung {value}</translation>
    </message>
    <message>
        <source>cast at hand…</source>
        <translation>Abguss zur Hand…</translation>
    </message>
    <message>
        <source>class, such as 4-40 NC-2</source>
        <translation>Klasse, etwa 4-40 NC-2</translation>
    </message>
    <message>
        <source>at hand…</source>
        <translation>zur Hand…</translation>
    </message>
    <message>
        <source>its class, a cast of it, or a hole on file</source>
        <translation>seine Klasse, ein Abguss davon oder ein abgelegtes Loch</translation>
    </message>
    <message>
        <source>nothing lies here yet</source>
        <translation>hier liegt noch nichts</translation>
    </message>
    <message>
        <source>cast: {name}</source>
        <translation>Abguss: {name}</translation>
    </message>
    <message>
        <source>pitch diameter {value}</source>
        <translation>Flankendurchmesser {value}</translation>
    </message>
    <message>
        <source>anywhere in its zone</source>
        <translation>irgendwo in seiner Toleranz</translation>
    </message>
    <message>
        <source>pitch diameter {low} to {high}</source>
        <translation>Flankendurchmesser {low} bis {high}</translation>
    </message>
    <message>
        <source>pitch diameter from {low}</source>
        <translation>Flankendurchmesser ab {low}</translation>
    </message>
    <message>
        <source>minor {low} to {high}</source>
        <translation>Kern {low} bis {high}</translation>
    </message>
    <message>
        <source>minor from {low}</source>
        <translation>Kern ab {low}</translation>
    </message>
    <message>
        <source>no screw has gone in yet</source>
        <translation>noch ging keine Schraube hinein</translation>
    </message>
    <message>
        <source>{thread}, by one trial</source>
        <translation>{thread}, nach einem Versuch</translation>
    </message>
    <message>
        <source>{thread}, by {n} trials</source>
        <translation>{thread}, nach {n} Versuchen</translation>
    </message>
    <message>
        <source>{text} is no number of a part: the register shows them.</source>
        <translation>{text} ist keine Nummer eines Teils: Die Kartei zeigt sie.</translation>
    </message>
</context>
<context>
    <name>Slots</name>
    <message>
        <source>Original</source>
        <translation>Original</translation>
    </message>
    <message>
        <source>Replacement</source>
        <translation>Ersatz</translation>
    </message>
    <message>
        <source>Hole</source>
        <translation>Loch</translation>
    </message>
    <message>
        <source>exchange</source>
        <translation>vertauschen</translation>
    </message>
    <message>
        <source>There is no part on the bench.</source>
        <translation>Auf dem Messplatz liegt kein Teil.</translation>
    </message>
    <message>
        <source>{name} was not measured. {why}</source>
        <translation>{name} wurde nicht gemessen. {why}</translation>
    </message>
    <message>
        <source>Pictures</source>
        <translation>Bilder</translation>
    </message>
    <message>
        <source>Open a picture</source>
        <translation>Ein Bild öffnen</translation>
    </message>
    <message>
        <source>No calibration is in use: calibrate the bench, or open a calibration, before pictures are laid in.</source>
        <translation>Es wird keine Kalibrierung verwendet: Kalibrieren Sie den Messplatz oder öffnen Sie eine Kalibrierung, bevor Sie Bilder einlegen.</translation>
    </message>
    <message>
        <source>measuring {name}</source>
        <translation>{name} wird gemessen</translation>
    </message>
    <message>
        <source>Part {number} is a hole: it goes into the slot on the right.</source>
        <translation>Teil {number} ist ein Loch: Es gehört auf den rechten Platz.</translation>
    </message>
    <message>
        <source>reading part {number}</source>
        <translation>Teil {number} wird gelesen</translation>
    </message>
    <message>
        <source>looking up {name}</source>
        <translation>{name} wird nachgeschlagen</translation>
    </message>
</context>
<context>
    <name>Source</name>
    <message>
        <source>camera {number}</source>
        <translation>Kamera {number}</translation>
    </message>
    <message>
        <source>{name} answers again.</source>
        <translation>{name} antwortet wieder.</translation>
    </message>
    <message>
        <source>{name} no longer answers. Check its cable: it is used again as soon as it answers, or press Reconnect. Nothing else is lost.</source>
        <translation>{name} antwortet nicht mehr. Prüfen Sie das Kabel: Sie wird wieder benutzt, sobald sie antwortet, oder drücken Sie „Neu verbinden“. Sonst ist nichts verloren.</translation>
    </message>
    <message>
        <source>{name} cannot be opened: is it plugged in, and does no other program use it?</source>
        <translation>{name} lässt sich nicht öffnen: Ist sie angesteckt, und benutzt sie kein anderes Programm?</translation>
    </message>
    <message>
        <source>{name} cannot be opened as a video. Choose another file.</source>
        <translation>{name} lässt sich nicht als Video öffnen. Wählen Sie eine andere Datei.</translation>
    </message>
    <message>
        <source>camera {number}: {names}</source>
        <translation>Kamera {number}: {names}</translation>
    </message>
    <message>
        <source> or </source>
        <translation> oder </translation>
    </message>
    <message>
        <source>{name} has ended. Its last frame stays; Space plays it again.</source>
        <translation>{name} ist zu Ende. Das letzte Bild bleibt; die Leertaste spielt es noch einmal.</translation>
    </message>
    <message>
        <source>This account may not use {name}: put it into the group video (sudo usermod -aG video NAME) and log in again.</source>
        <translation>Dieses Konto darf {name} nicht benutzen: Nehmen Sie es in die Gruppe video auf (sudo usermod -aG video NAME) und melden Sie sich neu an.</translation>
    </message>
    <message>
        <source>Windows must allow it: Settings, Privacy, Camera, desktop apps.</source>
        <translation>Windows muss es erlauben: Einstellungen, Datenschutz, Kamera, Desktop-Apps.</translation>
    </message>
    <message>
        <source>macOS must allow it: System Settings, Privacy &amp; Security, Camera; then start again.</source>
        <translation>macOS muss es erlauben: Systemeinstellungen, Datenschutz &amp; Sicherheit, Kamera; starten Sie dann neu.</translation>
    </message>
    <message>
        <source>{name} takes {seconds} s to answer: pictures come that much later. None is lost.</source>
        <translation>{name} braucht {seconds} s für eine Antwort: Bilder kommen um so viel später. Keines geht verloren.</translation>
    </message>
    <message>
        <source>The folder {name} is gone. Choose another one.</source>
        <translation>Der Ordner {name} ist weg. Wählen Sie einen anderen.</translation>
    </message>
    <message>
        <source>keeping the picture</source>
        <translation>Das Bild wird gesichert</translation>
    </message>
    <message>
        <source>{left} of {all} frames were left out: something moved in them.</source>
        <translation>{left} von {all} Einzelbildern blieben weg: Darin hat sich etwas bewegt.</translation>
    </message>
    <message>
        <source>{name} gives grey pictures in a colour format: they are read as sRGB. A grey picture file is read as linear light, so take the pictures of the gauges from {name} too.</source>
        <translation>{name} liefert graue Bilder in einem Farbformat: Sie werden als sRGB gelesen. Eine graue Bilddatei wird als lineares Licht gelesen. Nehmen Sie deshalb auch die Bilder der Normale mit {name} auf.</translation>
    </message>
</context>
<context>
    <name>SourceChooser</name>
    <message>
        <source>Where pictures come from</source>
        <translation>Woher Bilder kommen</translation>
    </message>
    <message>
        <source>Picture from</source>
        <translation>Bild von</translation>
    </message>
    <message>
        <source>Size of the camera&apos;s picture</source>
        <translation>Größe des Kamerabildes</translation>
    </message>
    <message>
        <source>size as it is</source>
        <translation>Größe wie sie ist</translation>
    </message>
    <message>
        <source>{count} megapixels</source>
        <translation>{count} Megapixel</translation>
    </message>
    <message>
        <source>Kind of the camera&apos;s picture</source>
        <translation>Art des Kamerabildes</translation>
    </message>
    <message>
        <source>Pins and parts in the same kind. Grey is best; what is compressed loses some of the edges.</source>
        <translation>Stifte und Teile in derselben Art. Grau ist am besten; was komprimiert ist, verliert etwas von den Kanten.</translation>
    </message>
    <message>
        <source>kind as it is</source>
        <translation>Art wie sie ist</translation>
    </message>
    <message>
        <source>grey</source>
        <translation>grau</translation>
    </message>
    <message>
        <source>colour</source>
        <translation>Farbe</translation>
    </message>
    <message>
        <source>colour, compressed</source>
        <translation>Farbe, komprimiert</translation>
    </message>
    <message>
        <source>Exposure</source>
        <translation>Belichtung</translation>
    </message>
    <message>
        <source>Gain</source>
        <translation>Verstärkung</translation>
    </message>
    <message>
        <source>Frames averaged to one picture</source>
        <translation>Einzelbilder, die zu einem Bild gemittelt werden</translation>
    </message>
    <message>
        <source>So many frames are averaged to one picture: noise goes down with their root.</source>
        <translation>So viele Einzelbilder werden zu einem gemittelt: Das Rauschen sinkt mit ihrer Wurzel.</translation>
    </message>
    <message>
        <source>Frames</source>
        <translation>Einzelbilder</translation>
    </message>
    <message>
        <source>Reconnect</source>
        <translation>Neu verbinden</translation>
    </message>
    <message>
        <source>Take (T)</source>
        <translation>Aufnehmen (T)</translation>
    </message>
    <message>
        <source>No camera is found. Plug one in and look again; pictures can also come from files.</source>
        <translation>Keine Kamera gefunden. Stecken Sie eine an und sehen Sie noch einmal nach; Bilder können auch aus Dateien kommen.</translation>
    </message>
    <message>
        <source>looking for cameras</source>
        <translation>Kameras werden gesucht</translation>
    </message>
    <message>
        <source>{name} is not plugged in: pictures come from files until it is chosen above.</source>
        <translation>{name} ist nicht angeschlossen: Bilder kommen aus Dateien, bis sie oben gewählt wird.</translation>
    </message>
    <message>
        <source>looking for the folder</source>
        <translation>Der Ordner wird gesucht</translation>
    </message>
    <message>
        <source>picture files only</source>
        <translation>nur Bilddateien</translation>
    </message>
    <message>
        <source>look for cameras</source>
        <translation>nach Kameras sehen</translation>
    </message>
    <message>
        <source>a video file…</source>
        <translation>eine Videodatei…</translation>
    </message>
    <message>
        <source>a watched folder…</source>
        <translation>ein beobachteter Ordner…</translation>
    </message>
    <message>
        <source>open a picture file…</source>
        <translation>eine Bilddatei öffnen…</translation>
    </message>
    <message>
        <source>video</source>
        <translation>Video</translation>
    </message>
    <message>
        <source>folder</source>
        <translation>Ordner</translation>
    </message>
    <message>
        <source>Play a video</source>
        <translation>Ein Video abspielen</translation>
    </message>
    <message>
        <source>Videos</source>
        <translation>Videos</translation>
    </message>
    <message>
        <source>Watch a folder</source>
        <translation>Einen Ordner beobachten</translation>
    </message>
    <message>
        <source>Go on</source>
        <translation>Weiter</translation>
    </message>
    <message>
        <source>Pause</source>
        <translation>Anhalten</translation>
    </message>
    <message>
        <source>Play again</source>
        <translation>Noch einmal</translation>
    </message>
    <message>
        <source>Taking {percent} %</source>
        <translation>Aufnahme {percent} %</translation>
    </message>
</context>
<context>
    <name>StatedForm</name>
    <message>
        <source>NC, 5-40 NC or 5-40 NC-2</source>
        <translation>NC, 5-40 NC oder 5-40 NC-2</translation>
    </message>
    <message>
        <source>page of the drawing, or its file</source>
        <translation>Seite der Zeichnung, oder ihre Datei</translation>
    </message>
    <message>
        <source> times</source>
        <translation>-fach</translation>
    </message>
    <message>
        <source>Let it count</source>
        <translation>Zählen lassen</translation>
    </message>
    <message>
        <source>Take it back</source>
        <translation>Zurücknehmen</translation>
    </message>
    <message>
        <source>it says</source>
        <translation>sagt</translation>
    </message>
    <message>
        <source>by</source>
        <translation>Quelle</translation>
    </message>
    <message>
        <source>counts</source>
        <translation>zählt</translation>
    </message>
    <message>
        <source>where it stands</source>
        <translation>wo es steht</translation>
    </message>
</context>
<context>
    <name>StepStrip</name>
    <message>
        <source>good</source>
        <translation>gut</translation>
    </message>
    <message>
        <source>change</source>
        <translation>ändern</translation>
    </message>
    <message>
        <source>not known</source>
        <translation>nicht bekannt</translation>
    </message>
</context>
<context>
    <name>Strip</name>
    <message>
        <source>instrument</source>
        <translation>Instrument</translation>
    </message>
    <message>
        <source>job</source>
        <translation>Auftrag</translation>
    </message>
    <message>
        <source>position</source>
        <translation>Stelle</translation>
    </message>
    <message>
        <source>what it is</source>
        <translation>was es ist</translation>
    </message>
    <message>
        <source>Part that is filed next</source>
        <translation>Teil, das als nächstes abgelegt wird</translation>
    </message>
    <message>
        <source>Take the last one back</source>
        <translation>Das letzte zurücknehmen</translation>
    </message>
    <message>
        <source>Next: {name}, being measured</source>
        <translation>Als nächstes: {name}, wird gemessen</translation>
    </message>
    <message>
        <source>Next: {name}, measured</source>
        <translation>Als nächstes: {name}, gemessen</translation>
    </message>
    <message>
        <source>Next: {name}, picture only: it was not measured</source>
        <translation>Als nächstes: {name}, nur das Bild: es wurde nicht gemessen</translation>
    </message>
    <message>
        <source>{count} on their way</source>
        <translation>{count} unterwegs</translation>
    </message>
    <message>
        <source>File this part</source>
        <translation>Dieses Teil ins Register</translation>
    </message>
    <message>
        <source>File it once more</source>
        <translation>Noch einmal ins Register</translation>
    </message>
    <message>
        <source>File every part in the picture</source>
        <translation>Alle Teile im Bild ablegen</translation>
    </message>
    <message>
        <source>On its way</source>
        <translation>Unterwegs</translation>
    </message>
    <message>
        <source>On file as part {number}</source>
        <translation>Im Register als Teil {number}</translation>
    </message>
    <message>
        <source>File the picture alone</source>
        <translation>Nur das Bild ins Register</translation>
    </message>
    <message>
        <source>File the picture as {position}</source>
        <translation>Nur das Bild als {position}</translation>
    </message>
    <message>
        <source>File this as {position}</source>
        <translation>Ins Register als {position}</translation>
    </message>
    <message>
        <source>No picture in the tray: take or open one; what you type here stays.</source>
        <translation>Kein Bild im Eingang: eins aufnehmen oder öffnen; was hier steht, bleibt.</translation>
    </message>
    <message>
        <source>{name} is filed as {position} as soon as it is measured. Take or open the next picture.</source>
        <translation>{name} kommt als {position} ins Register, sobald es gemessen ist. Nächstes Bild aufnehmen oder öffnen.</translation>
    </message>
    <message>
        <source>{name} is on file. Take or open the next picture.</source>
        <translation>{name} ist im Register. Nächstes Bild aufnehmen oder öffnen.</translation>
    </message>
    <message>
        <source>Next: {name}, still to be measured</source>
        <translation>Als Nächstes: {name}, noch nicht gemessen</translation>
    </message>
    <message>
        <source>reading the positions</source>
        <translation>Die Stellen werden gelesen</translation>
    </message>
    <message>
        <source>Calibrate the bench or open a calibration first.</source>
        <translation>Kalibrieren Sie zuerst den Messplatz, oder öffnen Sie eine Kalibrierung.</translation>
    </message>
    <message>
        <source>{count} parts are on file: {numbers}.</source>
        <translation>{count} Teile sind abgelegt: {numbers}.</translation>
    </message>
    <message>
        <source>{count} in the picture were not measured.</source>
        <translation>{count} im Bild wurden nicht gemessen.</translation>
    </message>
    <message>
        <source>measuring every part</source>
        <translation>Alle Teile werden gemessen</translation>
    </message>
    <message>
        <source>{name}: “{typed}” is new, but “{twin}” is on file.</source>
        <translation>{name}: „{typed}“ ist neu, aber „{twin}“ ist abgelegt.</translation>
    </message>
    <message>
        <source>“{twin}” is meant</source>
        <translation>„{twin}“ ist gemeint</translation>
    </message>
    <message>
        <source>Make “{typed}” new</source>
        <translation>„{typed}“ neu anlegen</translation>
    </message>
    <message>
        <source>{name}: this picture is on file as part {number}.</source>
        <translation>{name}: Dieses Bild ist als Teil {number} abgelegt.</translation>
    </message>
    <message>
        <source>{name}: part {number} is on file for {position}.</source>
        <translation>{name}: Teil {number} ist für {position} abgelegt.</translation>
    </message>
    <message>
        <source>Add it to part {number}</source>
        <translation>Zu Teil {number} dazu</translation>
    </message>
    <message>
        <source>It is another part</source>
        <translation>Es ist ein anderes Teil</translation>
    </message>
    <message>
        <source>{name} was not measured. {why}</source>
        <translation>{name} wurde nicht gemessen. {why}</translation>
    </message>
    <message>
        <source>{name} is not on file yet. {why}</source>
        <translation>{name} ist noch nicht im Register. {why}</translation>
    </message>
    <message>
        <source>Try again</source>
        <translation>Noch einmal versuchen</translation>
    </message>
</context>
<context>
    <name>TellingApart</name>
    <message>
        <source>looking what this bench tells apart</source>
        <translation>Es wird ermittelt, was dieser Messplatz unterscheidet</translation>
    </message>
    <message>
        <source>No usual screw fits this view: nothing can be said of what it tells apart.</source>
        <translation>Keine übliche Schraube passt in dieses Bild: Was es unterscheidet, lässt sich nicht sagen.</translation>
    </message>
    <message>
        <source>Pitch diameters to ± {u95} µm, on a clean {size} screw:</source>
        <translation>Flankendurchmesser auf ± {u95} µm, an einer sauberen Schraube {size}:</translation>
    </message>
    <message>
        <source>Most of it comes from: {causes}.</source>
        <translation>Das meiste davon kommt von: {causes}.</translation>
    </message>
    <message>
        <source>✓ yes</source>
        <translation>✓ ja</translation>
    </message>
    <message>
        <source>◐ partly</source>
        <translation>◐ teils</translation>
    </message>
    <message>
        <source>✗ no</source>
        <translation>✗ nein</translation>
    </message>
    <message>
        <source>{one} against {other}: every one of the first is within the limits of the second as well.</source>
        <translation>{one} gegen {other}: Jede der ersten liegt auch in den Grenzen der zweiten.</translation>
    </message>
    <message>
        <source>{one} against {other}: {told} of 100 are told; perfect measuring would tell {possible}.</source>
        <translation>{one} gegen {other}: {told} von 100 werden erkannt; vollkommenes Messen würde {possible} erkennen.</translation>
    </message>
</context>
<context>
    <name>ThreadCharts</name>
    <message>
        <source>Pitch error of each thread</source>
        <translation>Steigungsfehler jedes Gangs</translation>
    </message>
    <message>
        <source>Pitch diameter of each thread</source>
        <translation>Flankendurchmesser jedes Gangs</translation>
    </message>
    <message>
        <source>along the axis, mm</source>
        <translation>längs der Achse, mm</translation>
    </message>
    <message>
        <source>pitch error, {unit}</source>
        <translation>Steigungsfehler, {unit}</translation>
    </message>
    <message>
        <source>pitch diameter, {unit}</source>
        <translation>Flankendurchmesser, {unit}</translation>
    </message>
    <message>
        <source>their mean; lines: U95</source>
        <translation>ihr Mittel; Linien: U95</translation>
    </message>
    <message>
        <source>upper edge</source>
        <translation>obere Kante</translation>
    </message>
    <message>
        <source>lower edge</source>
        <translation>untere Kante</translation>
    </message>
</context>
<context>
    <name>ThreadView</name>
    <message>
        <source>along the axis, {unit}</source>
        <translation>längs der Achse, {unit}</translation>
    </message>
    <message>
        <source>diameter, {unit}</source>
        <translation>Durchmesser, {unit}</translation>
    </message>
    <message>
        <source>fitted axial section</source>
        <translation>angepasster Achsschnitt</translation>
    </message>
</context>
<context>
    <name>Tour</name>
    <message>
        <source>Tour</source>
        <translation>Rundgang</translation>
    </message>
    <message>
        <source>End the tour</source>
        <translation>Rundgang beenden</translation>
    </message>
    <message>
        <source>Done</source>
        <translation>Fertig</translation>
    </message>
    <message>
        <source>Next</source>
        <translation>Weiter</translation>
    </message>
    <message>
        <source>Every length comes from gauges. Here the bench is calibrated with two pins of 1.000 and 2.500 mm from sample pictures; with your own camera you lay down pins and take their pictures here.</source>
        <translation>Jede Länge kommt von Normalen. Hier wird der Messplatz mit zwei Stiften von 1,000 und 2,500 mm aus Beispielbildern kalibriert; mit Ihrer eigenen Kamera legen Sie Stifte auf und nehmen hier ihre Bilder auf.</translation>
    </message>
    <message>
        <source>An unknown screw from a 1938 marine sextant. The blue line is the thread that was fitted to its shadow. Below, all ridges are folded onto one, over the zones of the threads that it may be.</source>
        <translation>Eine unbekannte Schraube eines Marinesextanten von 1938. Die blaue Linie ist das Gewinde, das an ihren Schatten angepasst wurde. Darunter sind alle Gänge auf einen gefaltet, über den Toleranzen der Gewinde, die es sein kann.</translation>
    </message>
    <message>
        <source>By measurement alone two standards stay open. Say where and when the instrument was made, and see what that changes. What a picture cannot settle is said, not guessed.</source>
        <translation>Nach der Messung allein bleiben zwei Normen offen. Sagen Sie, wo und wann das Instrument gebaut wurde, und sehen Sie, was das ändert. Was ein Bild nicht klären kann, wird gesagt, nicht geraten.</translation>
    </message>
    <message>
        <source>A screw cut today beside it. In Fit you lay the two over each other, check a freshly cut thread, and see how loose it will feel in the old hole.</source>
        <translation>Daneben eine heute geschnittene Schraube. Unter „Passung“ legen Sie die beiden übereinander, prüfen ein frisch geschnittenes Gewinde und sehen, wie lose es sich im alten Loch anfühlen wird.</translation>
    </message>
    <message>
        <source>In the register every part is filed with its picture, so that it goes back where it came from and can be made again in ten years. F1 lists all keys. The tour can be had again from Help.</source>
        <translation>In der Kartei wird jedes Teil mit seinem Bild abgelegt, damit es dorthin zurückkommt, wo es herkam, und in zehn Jahren wieder gemacht werden kann. F1 zeigt alle Tasten. Den Rundgang gibt es noch einmal unter „Hilfe“.</translation>
    </message>
    <message>
        <source>reading the calibration of the samples</source>
        <translation>Kalibrierung der Beispiele wird gelesen</translation>
    </message>
    <message>
        <source>New here? The tour shows the three jobs on sample pictures: Help, Show me round.</source>
        <translation>Neu hier? Der Rundgang zeigt die drei Arbeiten an Beispielbildern: Hilfe, Zeig mir alles.</translation>
    </message>
</context>
<context>
    <name>TrayView</name>
    <message>
        <source>Put it back</source>
        <translation>Zurücklegen</translation>
    </message>
    <message>
        <source>Take it out</source>
        <translation>Herausnehmen</translation>
    </message>
    <message>
        <source>Take the highlighted picture out of the tray</source>
        <translation>Das gewählte Bild aus dem Eingang nehmen</translation>
    </message>
    <message>
        <source>{left} not on file</source>
        <translation>{left} nicht im Register</translation>
    </message>
    <message>
        <source>{way} on their way</source>
        <translation>{way} unterwegs</translation>
    </message>
    <message>
        <source>{waits} to measure</source>
        <translation>{waits} noch zu messen</translation>
    </message>
</context>
<context>
    <name>TurningPlot</name>
    <message>
        <source>Ovality and run-out over a turn</source>
        <translation>Ovalität und Rundlauf über eine Umdrehung</translation>
    </message>
    <message>
        <source>at {angle}°: pitch diameter {d} µm, axis {a} µm</source>
        <translation>bei {angle}°: Flankendurchmesser {d} µm, Achse {a} µm</translation>
    </message>
    <message>
        <source>●  pitch diameter    ■  axis    rings: ± {step} µm</source>
        <translation>●  Flankendurchmesser    ■  Achse    Ringe: ± {step} µm</translation>
    </message>
</context>
<context>
    <name>VerifyPanel</name>
    <message>
        <source>Back</source>
        <translation>Zurück</translation>
    </message>
    <message>
        <source>Within the band the bench holds; a dotted line is a new calibration.</source>
        <translation>Im Band gilt die Kalibrierung noch; eine gepunktete Linie ist eine neue.</translation>
    </message>
    <message>
        <source>Check with a pin</source>
        <translation>Mit einem Stift prüfen</translation>
    </message>
    <message>
        <source>Lay down a pin that you know. Nothing is changed; the outcome is kept.</source>
        <translation>Legen Sie einen Stift auf, den Sie kennen. Nichts wird geändert; das Ergebnis wird aufbewahrt.</translation>
    </message>
    <message>
        <source>Check</source>
        <translation>Prüfen</translation>
    </message>
    <message>
        <source>Take and check</source>
        <translation>Aufnehmen und prüfen</translation>
    </message>
    <message>
        <source>Choose its picture and check</source>
        <translation>Bild wählen und prüfen</translation>
    </message>
    <message>
        <source>verifying the bench</source>
        <translation>Der Messplatz wird nachgeprüft</translation>
    </message>
    <message>
        <source>The bench holds</source>
        <translation>Der Messplatz stimmt</translation>
    </message>
    <message>
        <source>The bench has changed</source>
        <translation>Der Messplatz hat sich geändert</translation>
    </message>
    <message>
        <source>difference {off}</source>
        <translation>Unterschied {off}</translation>
    </message>
    <message>
        <source>The pin measures as it should: {share} of what the uncertainties allow.</source>
        <translation>Der Stift misst, wie er soll: {share} dessen, was die Unsicherheiten zulassen.</translation>
    </message>
    <message>
        <source>The pin measures {share} times as much different as the uncertainties allow. Clean it, focus on its edges and try again; if it stays, calibrate anew.</source>
        <translation>Der Stift misst {share}-mal so verschieden, wie die Unsicherheiten zulassen. Reinigen Sie ihn, stellen Sie auf seine Kanten scharf und versuchen Sie es noch einmal; bleibt es, kalibrieren Sie neu.</translation>
    </message>
</context>
<context>
    <name>Window</name>
    <message>
        <source>Something unexpected happened ({what}). Your files are as they were. Please report it.</source>
        <translation>Etwas Unerwartetes ist geschehen ({what}). Ihre Dateien sind, wie sie waren. Bitte melden Sie es.</translation>
    </message>
    <message>
        <source>Bench</source>
        <translation>Messplatz</translation>
    </message>
    <message>
        <source>Is the set-up right?</source>
        <translation>Stimmt der Aufbau?</translation>
    </message>
    <message>
        <source>Part</source>
        <translation>Teil</translation>
    </message>
    <message>
        <source>What is this screw?</source>
        <translation>Was ist diese Schraube?</translation>
    </message>
    <message>
        <source>Fit</source>
        <translation>Passung</translation>
    </message>
    <message>
        <source>Original, replacement and hole</source>
        <translation>Original, Ersatz und Loch</translation>
    </message>
    <message>
        <source>Register</source>
        <translation>Kartei</translation>
    </message>
    <message>
        <source>Every part on file</source>
        <translation>Jedes abgelegte Teil</translation>
    </message>
    <message>
        <source>&amp;Picture</source>
        <translation>&amp;Bild</translation>
    </message>
    <message>
        <source>Open pictures…</source>
        <translation>Bilder öffnen …</translation>
    </message>
    <message>
        <source>Paste a picture</source>
        <translation>Ein Bild einfügen</translation>
    </message>
    <message>
        <source>Open a calibration…</source>
        <translation>Eine Kalibrierung öffnen…</translation>
    </message>
    <message>
        <source>Next card of the tray</source>
        <translation>Nächstes Bild im Eingang</translation>
    </message>
    <message>
        <source>Card before it</source>
        <translation>Bild davor</translation>
    </message>
    <message>
        <source>Take the card out of the tray</source>
        <translation>Bild aus dem Eingang nehmen</translation>
    </message>
    <message>
        <source>Quit</source>
        <translation>Beenden</translation>
    </message>
    <message>
        <source>&amp;Edit</source>
        <translation>B&amp;earbeiten</translation>
    </message>
    <message>
        <source>Undo</source>
        <translation>Rückgängig</translation>
    </message>
    <message>
        <source>Redo</source>
        <translation>Wiederholen</translation>
    </message>
    <message>
        <source>&amp;Go</source>
        <translation>&amp;Gehe zu</translation>
    </message>
    <message>
        <source>&amp;Here</source>
        <translation>&amp;Hier</translation>
    </message>
    <message>
        <source>&amp;View</source>
        <translation>&amp;Ansicht</translation>
    </message>
    <message>
        <source>Millimetres or inches</source>
        <translation>Millimeter oder Zoll</translation>
    </message>
    <message>
        <source>Colours as the system has them</source>
        <translation>Farben wie im System</translation>
    </message>
    <message>
        <source>Light</source>
        <translation>Licht</translation>
    </message>
    <message>
        <source>Dark</source>
        <translation>Dunkel</translation>
    </message>
    <message>
        <source>Size of the text</source>
        <translation>Größe der Schrift</translation>
    </message>
    <message>
        <source>Language</source>
        <translation>Sprache</translation>
    </message>
    <message>
        <source>As the system has it</source>
        <translation>Wie im System</translation>
    </message>
    <message>
        <source>P&amp;rint</source>
        <translation>&amp;Drucken</translation>
    </message>
    <message>
        <source>List of keys</source>
        <translation>Liste der Tasten</translation>
    </message>
    <message>
        <source>Guide</source>
        <translation>Leitfaden</translation>
    </message>
    <message>
        <source>Show me round with the sample pictures</source>
        <translation>Zeig mir alles an den Beispielbildern</translation>
    </message>
    <message>
        <source>About Flankwise</source>
        <translation>Über Flankwise</translation>
    </message>
    <message>
        <source>Recent pictures</source>
        <translation>Letzte Bilder</translation>
    </message>
    <message>
        <source>Recent calibrations</source>
        <translation>Letzte Kalibrierungen</translation>
    </message>
    <message>
        <source>Flankwise {version} measures screw threads from the shadow that a part throws in a camera. Free software under the licence {licence}. It works without a network; the register is {register}.</source>
        <translation>Flankwise {version} misst Schraubengewinde an dem Schatten, den ein Teil in einer Kamera wirft. Freie Software unter der Lizenz {licence}. Es arbeitet ohne Netz; das Register ist {register}.</translation>
    </message>
    <message>
        <source>Arrows</source>
        <translation>Pfeiltasten</translation>
    </message>
    <message>
        <source>move over the picture</source>
        <translation>über das Bild gehen</translation>
    </message>
    <message>
        <source>zoom</source>
        <translation>Zoom</translation>
    </message>
    <message>
        <source>the whole picture</source>
        <translation>das ganze Bild</translation>
    </message>
    <message>
        <source>Over a picture</source>
        <translation>Über einem Bild</translation>
    </message>
    <message>
        <source>Pictures and bundles</source>
        <translation>Bilder und Bündel</translation>
    </message>
    <message>
        <source>opening the register</source>
        <translation>Die Kartei wird geöffnet</translation>
    </message>
    <message>
        <source>The register was brought up to date. As it was before, it is kept in {path}.</source>
        <translation>Die Kartei wurde auf den Stand dieses Programms gebracht. Wie sie vorher war, liegt sie in {path}.</translation>
    </message>
    <message>
        <source>What was not on file last time is back in the tray.</source>
        <translation>Was beim letzten Mal nicht im Register war, liegt wieder im Eingang.</translation>
    </message>
    <message>
        <source>The program ended badly last time. What was not on file is back in the tray.</source>
        <translation>Das Programm endete beim letzten Mal unerwartet. Was nicht im Register war, liegt wieder im Eingang.</translation>
    </message>
    <message>
        <source>Open pictures</source>
        <translation>Bilder öffnen</translation>
    </message>
    <message>
        <source>He&amp;lp</source>
        <translation>Hi&amp;lfe</translation>
    </message>
    <message>
        <source>Open a calibration</source>
        <translation>Eine Kalibrierung öffnen</translation>
    </message>
    <message>
        <source>Calibrations</source>
        <translation>Kalibrierungen</translation>
    </message>
    <message>
        <source>keeping the picture</source>
        <translation>Das Bild wird gesichert</translation>
    </message>
    <message>
        <source>There is no picture on the clipboard. Copy one and paste again.</source>
        <translation>In der Zwischenablage ist kein Bild. Kopieren Sie eines und fügen Sie es noch einmal ein.</translation>
    </message>
</context>
<context>
    <name>_Plan</name>
    <message>
        <source>Positions of the instrument, in their order</source>
        <translation>Stellen des Instruments in ihrer Reihenfolge</translation>
    </message>
</context>
<context>
    <name>bench</name>
    <message>
        <source>no calibration: calibrate the bench, or open one</source>
        <translation>keine Kalibrierung: Messplatz kalibrieren oder eine öffnen</translation>
    </message>
    <message>
        <source>scale by hand {scale} a pixel, no gauge behind it</source>
        <translation>Maßstab von Hand {scale} je Pixel, kein Normal dahinter</translation>
    </message>
    <message>
        <source>sample calibration, for the tour alone: {scale} a pixel</source>
        <translation>Beispielkalibrierung, nur für den Rundgang: {scale} je Pixel</translation>
    </message>
    <message>
        <source>calibration {name}: {scale} a pixel</source>
        <translation>Kalibrierung {name}: {scale} je Pixel</translation>
    </message>
</context>
<context>
    <name>caution</name>
    <message>
        <source>Where a thread carries load, pressure or people, do not rely on this: have it checked with gauges by someone qualified, and keep to local codes.</source>
        <translation>Wo ein Gewinde Last, Druck oder Menschen trägt, verlassen Sie sich nicht darauf: Lassen Sie es von jemand Fachkundigem mit Lehren prüfen, und halten Sie sich an die örtlichen Vorschriften.</translation>
    </message>
</context>
<context>
    <name>country</name>
    <message>
        <source>Austria</source>
        <translation>Österreich</translation>
    </message>
    <message>
        <source>Australia</source>
        <translation>Australien</translation>
    </message>
    <message>
        <source>Belgium</source>
        <translation>Belgien</translation>
    </message>
    <message>
        <source>Bulgaria</source>
        <translation>Bulgarien</translation>
    </message>
    <message>
        <source>Brazil</source>
        <translation>Brasilien</translation>
    </message>
    <message>
        <source>Canada</source>
        <translation>Kanada</translation>
    </message>
    <message>
        <source>Switzerland</source>
        <translation>Schweiz</translation>
    </message>
    <message>
        <source>China</source>
        <translation>China</translation>
    </message>
    <message>
        <source>Czechia</source>
        <translation>Tschechien</translation>
    </message>
    <message>
        <source>Germany</source>
        <translation>Deutschland</translation>
    </message>
    <message>
        <source>Denmark</source>
        <translation>Dänemark</translation>
    </message>
    <message>
        <source>Spain</source>
        <translation>Spanien</translation>
    </message>
    <message>
        <source>Finland</source>
        <translation>Finnland</translation>
    </message>
    <message>
        <source>France</source>
        <translation>Frankreich</translation>
    </message>
    <message>
        <source>United Kingdom</source>
        <translation>Vereinigtes Königreich</translation>
    </message>
    <message>
        <source>Hungary</source>
        <translation>Ungarn</translation>
    </message>
    <message>
        <source>Ireland</source>
        <translation>Irland</translation>
    </message>
    <message>
        <source>India</source>
        <translation>Indien</translation>
    </message>
    <message>
        <source>Italy</source>
        <translation>Italien</translation>
    </message>
    <message>
        <source>Japan</source>
        <translation>Japan</translation>
    </message>
    <message>
        <source>South Korea</source>
        <translation>Südkorea</translation>
    </message>
    <message>
        <source>Luxembourg</source>
        <translation>Luxemburg</translation>
    </message>
    <message>
        <source>Netherlands</source>
        <translation>Niederlande</translation>
    </message>
    <message>
        <source>Norway</source>
        <translation>Norwegen</translation>
    </message>
    <message>
        <source>New Zealand</source>
        <translation>Neuseeland</translation>
    </message>
    <message>
        <source>Poland</source>
        <translation>Polen</translation>
    </message>
    <message>
        <source>Portugal</source>
        <translation>Portugal</translation>
    </message>
    <message>
        <source>Romania</source>
        <translation>Rumänien</translation>
    </message>
    <message>
        <source>Russia</source>
        <translation>Russland</translation>
    </message>
    <message>
        <source>Sweden</source>
        <translation>Schweden</translation>
    </message>
    <message>
        <source>Slovakia</source>
        <translation>Slowakei</translation>
    </message>
    <message>
        <source>United States</source>
        <translation>Vereinigte Staaten</translation>
    </message>
    <message>
        <source>Yugoslavia</source>
        <translation>Jugoslawien</translation>
    </message>
    <message>
        <source>South Africa</source>
        <translation>Südafrika</translation>
    </message>
</context>
<context>
    <name>explained</name>
    <message>
        <source>Distance from one ridge to the next, along the axis. From all ridges in view, on both edges. Doubt it where few threads are in view, or where the scale is by hand.</source>
        <translation>Abstand von einem Gang zum nächsten, längs der Achse. Aus allen Gängen im Bild, an beiden Kanten. Zweifelhaft, wo wenige Gänge im Bild sind oder der Maßstab von Hand ist.</translation>
    </message>
    <message>
        <source>What one turn moves a nut: the pitch times the starts. Doubt it where the starts were not counted.</source>
        <translation>Was eine Umdrehung eine Mutter bewegt: die Steigung mal Zahl der Anfänge. Zweifelhaft, wo die Anfänge nicht gezählt wurden.</translation>
    </message>
    <message>
        <source>25.4 mm over the pitch. Doubt it where you doubt the pitch.</source>
        <translation>25,4 mm durch die Steigung. Zweifelhaft, wo es die Teilung ist.</translation>
    </message>
    <message>
        <source>Over the crests. From the crests of both edges. Doubt it where crests are worn or burred, or the edges soft.</source>
        <translation>Über die Spitzen. Aus den Spitzen beider Kanten. Zweifelhaft, wo Spitzen abgenutzt sind oder Grate haben oder die Kanten unscharf sind.</translation>
    </message>
    <message>
        <source>Where ridge and groove are equally wide: what decides the fit. From the flanks of both edges, corrected for edge offset and helix. Doubt it where dirt lies on a flank, or no gauge stands behind the scale.</source>
        <translation>Wo Gang und Lücke gleich breit sind: was über die Passung entscheidet. Aus den Flanken beider Kanten, berichtigt um Kantenversatz und Schraubenlinie. Zweifelhaft, wo Schmutz auf einer Flanke liegt oder keine Lehre hinter dem Maßstab steht.</translation>
    </message>
    <message>
        <source>Over the roots. From the roots of both edges. Doubt it where dirt or the helix hides the root.</source>
        <translation>Über den Grund. Aus dem Grund beider Kanten. Zweifelhaft, wo Schmutz oder die Schraubenlinie den Grund verdeckt.</translation>
    </message>
    <message>
        <source>The pitch diameter, and what errors of pitch and angles add to it: what a nut feels. Doubt it where you doubt one of these.</source>
        <translation>Der Flankendurchmesser und was Fehler von Steigung und Winkeln dazugeben: was eine Mutter spürt. Zweifelhaft, wo eines davon es ist.</translation>
    </message>
    <message>
        <source>Between the two flanks of a ridge. From straight lines along all flanks. Doubt it where flanks are worn or few pixels long.</source>
        <translation>Zwischen den beiden Flanken eines Gangs. Aus Geraden längs aller Flanken. Zweifelhaft, wo Flanken abgenutzt oder wenige Pixel lang sind.</translation>
    </message>
    <message>
        <source>Between the left flank and a line across the axis. From all left flanks. Doubt it where the light comes from one side.</source>
        <translation>Zwischen der linken Flanke und einer Linie quer zur Achse. Aus allen linken Flanken. Zweifelhaft, wo das Licht von einer Seite kommt.</translation>
    </message>
    <message>
        <source>Between the right flank and a line across the axis. From all right flanks. Doubt it where the light comes from one side.</source>
        <translation>Zwischen der rechten Flanke und einer Linie quer zur Achse. Aus allen rechten Flanken. Zweifelhaft, wo das Licht von einer Seite kommt.</translation>
    </message>
    <message>
        <source>Of the flat on a ridge. From the crests of both edges. Doubt it where crests are worn or round.</source>
        <translation>Der Fläche auf einem Gang. Aus den Spitzen beider Kanten. Zweifelhaft, wo Spitzen abgenutzt oder rund sind.</translation>
    </message>
    <message>
        <source>Of the flat in a groove. From the roots of both edges. Doubt it where dirt lies in the grooves.</source>
        <translation>Der Fläche in einer Lücke. Aus dem Grund beider Kanten. Zweifelhaft, wo Schmutz in den Lücken liegt.</translation>
    </message>
    <message>
        <source>Of a rounded crest. From the crests of both edges. Doubt it where blur rounds them as well.</source>
        <translation>Einer gerundeten Spitze. Aus den Spitzen beider Kanten. Zweifelhaft, wo auch die Unschärfe sie rundet.</translation>
    </message>
    <message>
        <source>Of a rounded root. From the roots of both edges. Doubt it where blur rounds them as well.</source>
        <translation>Eines gerundeten Grundes. Aus dem Grund beider Kanten. Zweifelhaft, wo auch die Unschärfe ihn rundet.</translation>
    </message>
    <message>
        <source>How much the pitch diameter changes along the axis. From the ridges one by one. Doubt it where few are in view.</source>
        <translation>Wie sehr sich der Flankendurchmesser längs der Achse ändert. Aus den einzelnen Gängen. Zweifelhaft, wo wenige im Bild sind.</translation>
    </message>
    <message>
        <source>How far the part lies turned in the picture. It is taken out of all other numbers.</source>
        <translation>Wie weit das Teil im Bild gedreht liegt. Aus allen anderen Zahlen ist es herausgerechnet.</translation>
    </message>
    <message>
        <source>Of the helix at the pitch diameter: from the lead and the pitch diameter. Doubt it as these.</source>
        <translation>Der Schraubenlinie am Flankendurchmesser: aus Ganghöhe und Flankendurchmesser. Zweifelhaft wie diese.</translation>
    </message>
    <message>
        <source>± is U95: in 95 of 100 cases the true value lies within it.</source>
        <translation>± ist U95: In 95 von 100 Fällen liegt der wahre Wert darin.</translation>
    </message>
</context>
<context>
    <name>figure</name>
    <message>
        <source>Save a figure</source>
        <translation>Abbildung sichern</translation>
    </message>
    <message>
        <source>{name}: a figure is a pdf, an svg or a png.</source>
        <translation>{name}: Eine Abbildung ist pdf, svg oder png.</translation>
    </message>
    <message>
        <source>drawing {name}</source>
        <translation>{name} wird gezeichnet</translation>
    </message>
    <message>
        <source>The figure is in {path}.</source>
        <translation>Die Abbildung liegt in {path}.</translation>
    </message>
</context>
<context>
    <name>part history</name>
    <message>
        <source>replacement made: {what}</source>
        <translation>Ersatz gemacht: {what}</translation>
    </message>
    <message>
        <source>filed by {who}</source>
        <translation>abgelegt von {who}</translation>
    </message>
    <message>
        <source>part {number}</source>
        <translation>Teil {number}</translation>
    </message>
    <message>
        <source>{screw} stopped in it</source>
        <translation>{screw} blieb darin stecken</translation>
    </message>
    <message>
        <source>{screw} went in</source>
        <translation>{screw} ging hinein</translation>
    </message>
    <message>
        <source>{screw} went in and moved</source>
        <translation>{screw} ging hinein und bewegte sich</translation>
    </message>
    <message>
        <source>measured by {who}; withdrawn</source>
        <translation>gemessen von {who}; zurückgezogen</translation>
    </message>
    <message>
        <source>measured by {who}: pitch diameter {size}</source>
        <translation>gemessen von {who}: Flankendurchmesser {size}</translation>
    </message>
    <message>
        <source>bench {name}</source>
        <translation>Messplatz {name}</translation>
    </message>
    <message>
        <source>withdrawn</source>
        <translation>zurückgezogen</translation>
    </message>
    <message>
        <source>brought back</source>
        <translation>zurückgeholt</translation>
    </message>
    <message>
        <source>{what}: {before} became {after}</source>
        <translation>{what}: aus {before} wurde {after}</translation>
    </message>
    <message>
        <source>name</source>
        <translation>Name</translation>
    </message>
    <message>
        <source>instrument</source>
        <translation>Instrument</translation>
    </message>
    <message>
        <source>position</source>
        <translation>Stelle</translation>
    </message>
    <message>
        <source>job</source>
        <translation>Auftrag</translation>
    </message>
    <message>
        <source>note</source>
        <translation>Notiz</translation>
    </message>
    <message>
        <source>die</source>
        <translation>Schneideisen</translation>
    </message>
    <message>
        <source>setting</source>
        <translation>Einstellung</translation>
    </message>
    <message>
        <source>stock</source>
        <translation>Material</translation>
    </message>
    <message>
        <source>remark</source>
        <translation>Bemerkung</translation>
    </message>
    <message>
        <source>made</source>
        <translation>gemacht am</translation>
    </message>
    <message>
        <source>made from</source>
        <translation>gebaut von</translation>
    </message>
    <message>
        <source>made to</source>
        <translation>gebaut bis</translation>
    </message>
    <message>
        <source>country</source>
        <translation>Land</translation>
    </message>
    <message>
        <source>maker</source>
        <translation>Hersteller</translation>
    </message>
    <message>
        <source>model</source>
        <translation>Modell</translation>
    </message>
    <message>
        <source>serial number</source>
        <translation>Seriennummer</translation>
    </message>
</context>
<context>
    <name>quantity</name>
    <message>
        <source>pitch</source>
        <translation>Steigung</translation>
    </message>
    <message>
        <source>lead</source>
        <translation>Ganghöhe</translation>
    </message>
    <message>
        <source>threads per inch</source>
        <translation>Gänge je Zoll</translation>
    </message>
    <message>
        <source>major diameter</source>
        <translation>Außendurchmesser</translation>
    </message>
    <message>
        <source>pitch diameter</source>
        <translation>Flankendurchmesser</translation>
    </message>
    <message>
        <source>minor diameter</source>
        <translation>Kerndurchmesser</translation>
    </message>
    <message>
        <source>virtual pitch diameter</source>
        <translation>Paarungs-Flankendurchmesser</translation>
    </message>
    <message>
        <source>included angle</source>
        <translation>Profilwinkel</translation>
    </message>
    <message>
        <source>flank angle, left</source>
        <translation>Flankenwinkel, links</translation>
    </message>
    <message>
        <source>flank angle, right</source>
        <translation>Flankenwinkel, rechts</translation>
    </message>
    <message>
        <source>crest width</source>
        <translation>Spitzenbreite</translation>
    </message>
    <message>
        <source>root width</source>
        <translation>Grundbreite</translation>
    </message>
    <message>
        <source>crest radius</source>
        <translation>Spitzenradius</translation>
    </message>
    <message>
        <source>root radius</source>
        <translation>Grundradius</translation>
    </message>
    <message>
        <source>taper</source>
        <translation>Verjüngung</translation>
    </message>
    <message>
        <source>tilt of the axis</source>
        <translation>Neigung der Achse</translation>
    </message>
    <message>
        <source>lead angle</source>
        <translation>Steigungswinkel</translation>
    </message>
</context>
<context>
    <name>signs</name>
    <message>
        <source>The picture is black: switch the light pad on, or expose longer.</source>
        <translation>Das Bild ist schwarz: Schalten Sie die Leuchtfläche ein, oder belichten Sie länger.</translation>
    </message>
    <message>
        <source>Too bright: {share} % of the ground is burnt out. Expose shorter or dim the pad.</source>
        <translation>Zu hell: {share} % des Grundes sind ausgebrannt. Belichten Sie kürzer oder dimmen Sie die Fläche.</translation>
    </message>
    <message>
        <source>The light comes from the front: put the light pad behind the part.</source>
        <translation>Das Licht kommt von vorn: Stellen Sie die Leuchtfläche hinter das Teil.</translation>
    </message>
    <message>
        <source>Nearly white ({percent} % of full scale): expose a little shorter.</source>
        <translation>Fast weiß ({percent} % des vollen Wertes): Belichten Sie etwas kürzer.</translation>
    </message>
    <message>
        <source>Dim ({percent} % of full scale): expose longer or turn the pad up.</source>
        <translation>Dunkel ({percent} % des vollen Wertes): Belichten Sie länger oder stellen Sie die Fläche heller.</translation>
    </message>
    <message>
        <source>Uneven: {percent} % darker in one place than in another. Centre the pad.</source>
        <translation>Ungleichmäßig: an einer Stelle {percent} % dunkler als an einer anderen. Rücken Sie die Fläche in die Mitte.</translation>
    </message>
    <message>
        <source>Even, at {percent} % of full scale, nothing burnt out.</source>
        <translation>Gleichmäßig, bei {percent} % des vollen Wertes, nichts ausgebrannt.</translation>
    </message>
    <message>
        <source>Nothing to focus on yet.</source>
        <translation>Noch nichts zum Scharfstellen.</translation>
    </message>
    <message>
        <source>Sharp: edge blur {blur} px.</source>
        <translation>Scharf: Kantenunschärfe {blur} px.</translation>
    </message>
    <message>
        <source>Edge blur {blur} px; it was {best} px a moment ago: move the lens back to there.</source>
        <translation>Kantenunschärfe {blur} px; eben waren es {best} px: Stellen Sie das Objektiv dorthin zurück.</translation>
    </message>
    <message>
        <source>Edge blur {blur} px: raise or lower the lens until this is smallest, under 2 px.</source>
        <translation>Kantenunschärfe {blur} px: Heben oder senken Sie das Objektiv, bis sie am kleinsten ist, unter 2 px.</translation>
    </message>
    <message>
        <source>Nothing can be seen in this light.</source>
        <translation>In diesem Licht ist nichts zu sehen.</translation>
    </message>
    <message>
        <source>Turn the part {angle}° anticlockwise.</source>
        <translation>Drehen Sie das Teil {angle}° gegen den Uhrzeigersinn.</translation>
    </message>
    <message>
        <source>Turn the part {angle}° clockwise.</source>
        <translation>Drehen Sie das Teil {angle}° im Uhrzeigersinn.</translation>
    </message>
    <message>
        <source>{whole} parts in view: leave one on the pad.</source>
        <translation>{whole} Teile im Bild: Lassen Sie eines auf der Fläche.</translation>
    </message>
    <message>
        <source>The part leaves the picture on {sides} sides: step back, or move it.</source>
        <translation>Das Teil verlässt das Bild auf {sides} Seiten: Gehen Sie zurück, oder verschieben Sie es.</translation>
    </message>
    <message>
        <source>Straight to {lean}°; no thread in view.</source>
        <translation>Gerade auf {lean}°; kein Gewinde im Bild.</translation>
    </message>
    <message>
        <source>The axis leans {number}° toward or away from the lens: raise or lower one end.</source>
        <translation>Die Achse neigt sich {number}° zum Objektiv oder davon weg: Heben oder senken Sie ein Ende.</translation>
    </message>
    <message>
        <source>Too small: a thread is only {pitch} px long. Come closer.</source>
        <translation>Zu klein: Ein Gang ist nur {pitch} px lang. Gehen Sie näher heran.</translation>
    </message>
    <message>
        <source>Only {number} threads in view: show at least 4.</source>
        <translation>Nur {number} Gänge im Bild: Zeigen Sie mindestens 4.</translation>
    </message>
    <message>
        <source>Straight: {number} threads of {pitch} px in view, tilt {tilt}°.</source>
        <translation>Gerade: {number} Gänge von {pitch} px im Bild, Neigung {tilt}°.</translation>
    </message>
    <message>
        <source>Straight: {number} threads of {pitch} px in view.</source>
        <translation>Gerade: {number} Gänge von {pitch} px im Bild.</translation>
    </message>
</context>
<context>
    <name>tray</name>
    <message>
        <source>on file: part {number}</source>
        <translation>im Register: Teil {number}</translation>
    </message>
    <message>
        <source>no calibration</source>
        <translation>keine Kalibrierung</translation>
    </message>
    <message>
        <source>on its way</source>
        <translation>unterwegs</translation>
    </message>
    <message>
        <source>waiting</source>
        <translation>wartet</translation>
    </message>
    <message>
        <source>measuring</source>
        <translation>wird gemessen</translation>
    </message>
    <message>
        <source>ready</source>
        <translation>bereit</translation>
    </message>
    <message>
        <source>refused</source>
        <translation>abgelehnt</translation>
    </message>
    <message>
        <source>is asked about</source>
        <translation>wartet auf eine Antwort</translation>
    </message>
    <message>
        <source>another camera</source>
        <translation>andere Kamera</translation>
    </message>
    <message>
        <source>on file</source>
        <translation>im Register</translation>
    </message>
</context>
<context>
    <name>verdict</name>
    <message>
        <source>conforms</source>
        <translation>erfüllt</translation>
    </message>
    <message>
        <source>does not conform</source>
        <translation>erfüllt nicht</translation>
    </message>
    <message>
        <source>cannot tell</source>
        <translation>nicht entscheidbar</translation>
    </message>
    <message>
        <source>no limit</source>
        <translation>keine Grenze</translation>
    </message>
    <message>
        <source>{mark} limits or sizes from memory, not checked against the printed standard</source>
        <translation>{mark} Grenzen oder Maße aus dem Gedächtnis, nicht an der gedruckten Norm geprüft</translation>
    </message>
    <message>
        <source>up to {limit}</source>
        <translation>bis {limit}</translation>
    </message>
    <message>
        <source>from {limit}</source>
        <translation>ab {limit}</translation>
    </message>
</context>
</TS>
